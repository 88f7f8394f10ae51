package system

import (
	"os"
	"path/filepath"
	"strings"
)

// Documents is the folder where a person keeps documents: as the system says,
// else Documents in the home folder if it is there, else the home folder. The
// error is the system's when there is no home folder.
func Documents() (string, error) {
	if folder := documentsOfSystem(); folder != "" {
		return folder, nil
	}
	home, err := os.UserHomeDir()
	if err != nil {
		return "", err
	}
	folder := filepath.Join(home, "Documents")
	if info, err := os.Stat(folder); err == nil && info.IsDir() {
		return folder, nil
	}
	return home, nil
}

// userDirs reads the folder of documents from a desktop's user-dirs.dirs (the
// format of xdg-user-dirs): a value is an absolute path, or one that begins with
// $HOME. "" for none, and for the home folder itself, which means that there is
// none.
func userDirs(text, home string) string {
	for line := range strings.Lines(text) {
		value, is := strings.CutPrefix(strings.TrimSpace(line), "XDG_DOCUMENTS_DIR=")
		if !is {
			continue
		}
		value = strings.NewReplacer(`\"`, `"`, `\\`, `\`, `\$`, `$`, "\\`", "`").Replace(strings.TrimSuffix(strings.TrimPrefix(value, `"`), `"`))
		if rest, in := strings.CutPrefix(value, "$HOME"); in {
			value = filepath.Join(home, rest)
		}
		if value = filepath.Clean(value); filepath.IsAbs(value) && value != filepath.Clean(home) {
			return value
		}
	}
	return ""
}
