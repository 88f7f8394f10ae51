package desk

import "halfpour/pourplan"

// Rename returns the text of a job with another title.
func Rename(src, title string) (string, error) {
	return pourplan.SetKey(src, "title", quoted(title))
}

// Copy returns the text of a job as that of a copy with a title of its own. What
// the copy builds must not go where the job builds: output.folder is left out.
// The errors are those of package pourplan.
func Copy(src, title string) (string, error) {
	text, err := pourplan.DropKey(src, "output.folder")
	if err != nil {
		return "", err
	}
	return Rename(text, title)
}
