package pourplan

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"
)

// folderName is a name as plain as every file system takes it, in letters and
// digits of any script: "1/8 oz" becomes "1-8-oz".
func folderName(name string) string {
	words := strings.FieldsFunc(name, func(c rune) bool { return !unicode.In(c, unicode.L, unicode.M, unicode.Nd) })
	return strings.ToLower(strings.Join(words, "-"))
}

// isDevice reports whether Windows keeps a name for a device, whatever its case
// and ending ("Naming Files, Paths, and Namespaces" in Microsoft's documentation;
// com0 and lpt0 to be safe).
func isDevice(name string) bool {
	name, _, _ = strings.Cut(strings.ToLower(name), ".")
	name = strings.TrimRight(name, " ")
	if slices.Contains([]string{"con", "prn", "aux", "nul", "conin$", "conout$"}, name) {
		return true
	}
	rest, port := strings.CutPrefix(name, "com")
	if !port {
		rest, port = strings.CutPrefix(name, "lpt")
	}
	return port && slices.Contains([]string{"0", "1", "2", "3", "4", "5", "6", "7", "8", "9", "¹", "²", "³"}, rest)
}

// mostName is the longest name that CheckName takes, in characters: paths of some
// programs end at 260.
const mostName = 80

// CheckName says why a name cannot be that of a new file or folder on every
// system, for a person; nil if it can.
func CheckName(name string) error {
	last, _ := utf8.DecodeLastRuneInString(name)
	switch {
	case name == "":
		return errors.New("give it a name")
	case !utf8.ValidString(name) || strings.ContainsFunc(name, Unseen):
		return fmt.Errorf("%q has a character that cannot be seen: choose another name", name)
	case strings.ContainsAny(name, `<>:"/\|?*`):
		return fmt.Errorf(`%q cannot be a name: leave out < > : " / \ | ? *`, name)
	case name[0] == '.' || name[0] == ' ' || name[0] == '~':
		return fmt.Errorf("%q cannot be a name: begin with a letter or digit", name)
	case last == '.' || last == ' ':
		return fmt.Errorf("%q cannot be a name: end with a letter or digit", name)
	case isDevice(name):
		return fmt.Errorf("%q cannot be a name: Windows keeps it for a device", name)
	case utf8.RuneCountInString(name) > mostName || len(name) > 240:
		return fmt.Errorf("the name is too long: %d characters at most", mostName)
	}
	return nil
}

// onAnotherHost reports whether Windows would look for a path on the network:
// two slashes of either kind, then a host. A job that somebody sends must not
// make this computer call theirs.
func onAnotherHost(path string) bool {
	return strings.HasPrefix(strings.ReplaceAll(path, `\`, "/"), "//")
}
