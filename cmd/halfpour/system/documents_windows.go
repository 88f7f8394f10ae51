package system

import "golang.org/x/sys/windows"

// documentsOfSystem is the folder as Windows has it: a person may have moved it to
// another drive.
func documentsOfSystem() string {
	folder, err := windows.KnownFolderPath(windows.FOLDERID_Documents, 0)
	if err != nil {
		return ""
	}
	return folder
}
