package pourplan

import (
	"errors"
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
	for name, want := range map[string]bool{"com1": true, "lpt9": true, "coma": false, "com12": false, "con": true, "prn": true, "aux": true,
		"nul": true, "null": false, "lot1": false, "xlpt": false, "CON": true, "Aux.stl": true, "nul .txt": true, "com¹": true, "LPT²": true, "com": false, "conin$": true, "con-out": false} {
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

// What may be the name of a new file on every system, by Microsoft's "Naming
// Files, Paths, and Namespaces".
func TestCheckName(t *testing.T) {
	for name, want := range map[string]bool{
		"Shad": true, "shad.stl": true, "größe 2": true, "大 3": true, "a.b.c": true, "-x": true, strings.Repeat("大", 80): true, "コンソール": true,
		"": false, ".": false, "..": false, ".hidden": false, "~x": false, " x": false, "x ": false, "x.": false, "a/b": false, `a\b`: false, "c:x": false,
		"a*": false, "a?": false, `a"`: false, "a<b": false, "a|b": false, "a\nb": false, "a\u202eb": false, "a\xff": false, "nul": false, "Con.toml": false,
		strings.Repeat("a", 81): false,
	} {
		if err := CheckName(name); (err == nil) != want {
			t.Errorf("%q: %v", name, err)
		}
	}
}

// A build's folder is none that Windows keeps for a device.
func TestOutputFolderNames(t *testing.T) {
	for folder, want := range map[string]int{"out": 0, "a/b": 0, "out/Con": 1, "nul": 1, "com1.x": 1} {
		_, err := ReadJob("job.toml", []byte(shortJob+"\n[output]\nfolder = \""+folder+"\"\n"))
		var list JobErrors
		if errors.As(err, &list); len(list) != want {
			t.Errorf("%s: %v", folder, err)
		}
	}
}
