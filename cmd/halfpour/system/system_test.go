package system

import (
	"os"
	"path/filepath"
	"testing"
)

// user-dirs.dirs as xdg-user-dirs writes it (its manual page, user-dirs.dirs(5)).
func TestUserDirs(t *testing.T) {
	home := t.TempDir()
	for _, c := range []struct{ text, want string }{
		{"# a remark\nXDG_DESKTOP_DIR=\"$HOME/Desktop\"\nXDG_DOCUMENTS_DIR=\"$HOME/Eigene Dokumente\"\n", filepath.Join(home, "Eigene Dokumente")},
		{"XDG_DOCUMENTS_DIR=\"/data/Doküménte\"", "/data/Doküménte"}, {"XDG_DOCUMENTS_DIR=\"/a \\\"b\\\"\"\n", `/a "b"`},
		{"XDG_DOCUMENTS_DIR=\"$HOME/\"\n", ""}, {"XDG_DOCUMENTS_DIR=\"$HOME\"\n", ""}, {"XDG_DOCUMENTS_DIR=\"Documents\"\n", ""}, {"", ""},
	} {
		if filepath.Separator != '/' {
			t.Skip("of desktops with other paths")
		}
		if got := userDirs(c.text, home); got != c.want {
			t.Errorf("%q: %q, want %q", c.text, got, c.want)
		}
	}
}

// A test has streams of its own or those of a terminal: nobody has clicked on it.
func TestStartedByClick(t *testing.T) {
	t.Setenv("DISPLAY", ":0")
	t.Setenv("CI", "")
	old := os.Stdout
	defer func() { os.Stdout = old }()
	var err error
	if os.Stdout, err = os.Create(filepath.Join(t.TempDir(), "out")); err != nil {
		t.Fatal(err)
	}
	defer os.Stdout.Close()
	if StartedByClick() {
		t.Error("with its output in a file")
	}
}

func TestDocuments(t *testing.T) {
	home := t.TempDir()
	t.Setenv("HOME", home)
	t.Setenv("XDG_CONFIG_HOME", "")
	if documentsOfSystem() != "" {
		t.Skip("the system says where they are")
	}
	look := func(want string) {
		t.Helper()
		if got, err := Documents(); err != nil || got != filepath.Join(home, want) {
			t.Errorf("%q, %v, want %q", got, err, want)
		}
	}
	look("")
	for _, dir := range []string{"Documents", "Dokumente", ".config"} {
		if err := os.Mkdir(filepath.Join(home, dir), 0o777); err != nil {
			t.Fatal(err)
		}
	}
	look("Documents")
	if err := os.WriteFile(filepath.Join(home, ".config", "user-dirs.dirs"), []byte("XDG_DOCUMENTS_DIR=\"$HOME/Dokumente\"\n"), 0o666); err != nil {
		t.Fatal(err)
	}
	look("Dokumente")
	if err := os.Remove(filepath.Join(home, "Dokumente")); err != nil {
		t.Fatal(err)
	}
	look("Documents") // one that is not there is not made
}
