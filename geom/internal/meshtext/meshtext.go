// Package meshtext reads and shows what text mesh files have in common: numbers
// and names. It is for the readers of such formats, whose errors say where.
package meshtext

import (
	"bytes"
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"
	"unicode"
)

// ErrNotFinite tells of NaN, an infinity or what a float32 cannot hold.
var ErrNotFinite = errors.New("is not a finite number")

// Number takes decimal numbers that a float32 can hold. What else ParseFloat
// knows (hex, underscores) is damage rather than meant. The error is
// ErrNotFinite, or says what was expected.
func Number(word []byte) (float64, error) {
	v, err := strconv.ParseFloat(string(word), 64)
	switch {
	case math.IsNaN(v) || math.Abs(v) > math.MaxFloat32:
		return 0, ErrNotFinite
	case err != nil && bytes.IndexByte(word, ',') >= 0:
		return 0, fmt.Errorf("expected a number, got %s; export with a decimal point", Quote(word))
	case err != nil || !isDecimal(word):
		return 0, fmt.Errorf("expected a number, got %s", Quote(word))
	}
	return v, nil
}

func isDecimal(word []byte) bool {
	for _, c := range word {
		if (c < '0' || c > '9') && c != '.' && c != '-' && c != '+' && c != 'e' && c != 'E' {
			return false
		}
	}
	return true
}

// Quote shows a word without letting a long one flood the message.
func Quote(word []byte) string {
	const most = 24
	if len(word) > most {
		return fmt.Sprintf("%.*q...", most, word)
	}
	return fmt.Sprintf("%q", word)
}

// Name makes a name of bytes that may be anything: printable characters, with
// single blanks between words. What is beyond any name is left out, so that a line
// of a gigabyte costs nothing.
func Name(raw []byte) string {
	const most = 256
	raw = raw[:min(len(raw), most)]
	s := strings.Map(func(r rune) rune {
		if unicode.IsPrint(r) {
			return r
		}
		return ' '
	}, strings.ToValidUTF8(string(raw), ""))
	return strings.Join(strings.Fields(s), " ")
}
