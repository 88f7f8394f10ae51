package pourplan

import (
	"slices"
	"strings"
	"unicode"
)

// folderName is a name as plain as every file system takes it, in letters and
// digits of any script: "1/8 oz" becomes "1-8-oz".
func folderName(name string) string {
	words := strings.FieldsFunc(name, func(c rune) bool { return !unicode.In(c, unicode.L, unicode.M, unicode.Nd) })
	return strings.ToLower(strings.Join(words, "-"))
}

// isDevice reports whether Windows keeps a name for a device.
func isDevice(folder string) bool {
	if slices.Contains([]string{"con", "prn", "aux", "nul"}, folder) {
		return true
	}
	return len(folder) == 4 && (strings.HasPrefix(folder, "com") || strings.HasPrefix(folder, "lpt")) && unicode.IsDigit(rune(folder[3]))
}

// onAnotherHost reports whether Windows would look for a path on the network:
// two slashes of either kind, then a host. A job that somebody sends must not
// make this computer call theirs.
func onAnotherHost(path string) bool {
	return strings.HasPrefix(strings.ReplaceAll(path, `\`, "/"), "//")
}
