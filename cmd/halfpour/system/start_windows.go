package system

import (
	"unsafe"

	"golang.org/x/sys/windows"
)

var consoleProcesses = windows.NewLazySystemDLL("kernel32.dll").NewProc("GetConsoleProcessList")

// StartedByClick reports whether a double click started the program: Windows has
// then opened a console for it alone.
func StartedByClick() bool {
	var list [2]uint32
	n, _, _ := consoleProcesses.Call(uintptr(unsafe.Pointer(&list[0])), uintptr(len(list)))
	return n == 1
}
