//go:build !windows

package system

import (
	"os"
	"path/filepath"
)

// documentsOfSystem is the folder as the desktop has it, by whatever name in the
// person's language.
func documentsOfSystem() string {
	home, err := os.UserHomeDir()
	if err != nil {
		return ""
	}
	config := os.Getenv("XDG_CONFIG_HOME")
	if config == "" {
		config = filepath.Join(home, ".config")
	}
	text, err := os.ReadFile(filepath.Join(config, "user-dirs.dirs"))
	if err != nil {
		return ""
	}
	folder := userDirs(string(text), home)
	if info, err := os.Stat(folder); err != nil || !info.IsDir() {
		return ""
	}
	return folder
}
