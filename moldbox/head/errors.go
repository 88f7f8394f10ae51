package head

// Error says why a file's bytes make no head.
type Error struct {
	Name     string    // of the file, as it was given to Read
	Problems []Problem // at least one
	Err      error     // what it was made of; may be nil
}

// Problem is one thing that is wrong with a file.
type Problem struct {
	Rule    string   // short and stable
	Message string   // without the file's name
	Hints   []string // what to do
}

func (e *Error) Error() string { return e.Name + ": " + e.Problems[0].Message }

func (e *Error) Unwrap() error { return e.Err }

func refuse(name, rule, what string, hints ...string) *Error {
	return &Error{Name: name, Problems: []Problem{{Rule: rule, Message: what, Hints: hints}}}
}
