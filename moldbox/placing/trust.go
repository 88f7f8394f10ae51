package placing

// Trust says how sure a proposal is.
type Trust string

// From what was measured to what is no more than a start.
const (
	Sure   Trust = "sure"
	Likely Trust = "likely"
	Unsure Trust = "not sure"
)

// Reason is how sure a proposal is, and why, in words for a person.
type Reason struct {
	Trust Trust
	Why   string
}
