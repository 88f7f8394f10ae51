package desk

import (
	"crypto/sha256"
	"encoding/hex"
	"errors"
)

// mostTexts is how many texts of a job are kept.
const mostTexts = 500

// History is the texts that a job has had, whoever changed it. The zero value
// is ready for use.
type History struct {
	texts []string
	at    int // the one that the job has
}

// ErrNoStep says that there is nothing to undo or to do again.
var ErrNoStep = errors.New("there is nothing to undo or redo")

// Note notes the text that the job has.
func (h *History) Note(src string) {
	if len(h.texts) > 0 && h.texts[h.at] == src {
		return
	}
	h.texts = append(h.texts[:min(h.at+1, len(h.texts))], src)
	if len(h.texts) > mostTexts {
		h.texts = h.texts[1:]
	}
	h.at = len(h.texts) - 1
}

// Go moves a step, back for -1, and returns the text that the job has there. It
// fails with ErrNoStep.
func (h *History) Go(step int) (string, error) {
	if to := h.at + step; to >= 0 && to < len(h.texts) {
		h.at = to
		return h.texts[to], nil
	}
	return "", ErrNoStep
}

// Steps says whether there is something to undo and to do again.
func (h *History) Steps() (undo, redo bool) { return h.at > 0, h.at < len(h.texts)-1 }

// NameOf names a file's text, so that a page can say which it has seen.
func NameOf(file, src string) string {
	sum := sha256.Sum256([]byte(file + "\x00" + src))
	return hex.EncodeToString(sum[:8])
}
