package pourplan

import (
	"strings"
	"testing"
)

// A folder is named in letters and digits of any script, at most 255 bytes and
// without the dots and spaces that Windows takes off its end.
func TestSizeFolders(t *testing.T) {
	for name, want := range map[string]string{"1/8 oz": "1-8-oz", "Жук": "жук", "größe 2": "größe-2", "大": "大",
		"small. ": "small", "..": "", "com10": "com10", strings.Repeat("大", 40): strings.Repeat("大", 40)} {
		got := folderName(name)
		if got != want || len(got) > 255 || isDevice(got) {
			t.Errorf("%q: got the folder %q, want %q", name, got, want)
		}
	}
}

// Windows keeps com0 to com9, lpt0 to lpt9 and four words for devices.
func TestDeviceNames(t *testing.T) {
	for name, want := range map[string]bool{"com1": true, "lpt9": true, "com": false, "coma": false, "com12": false, "con": true, "prn": true, "aux": true,
		"nul": true, "null": false, "lot1": false, "xlpt": false} {
		if got := isDevice(name); got != want {
			t.Errorf("%q: %v", name, got)
		}
	}
}

// Windows takes each of the first four for a host's share.
func TestHeadsOfAnotherHost(t *testing.T) {
	for path, want := range map[string]bool{
		`\\host\share\head.stl`: true, `//host/share/head.stl`: true, `\/host/share/head.stl`: true, `\\?\UNC\host\share\head.stl`: true,
		`head.stl`: false, `../heads/head.stl`: false, `/heads/head.stl`: false, `C:\heads\head.stl`: false, `a//b.stl`: false,
	} {
		if got := onAnotherHost(path); got != want {
			t.Errorf("%s: %v", path, got)
		}
	}
}
