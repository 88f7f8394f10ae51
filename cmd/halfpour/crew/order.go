package crew

// Order is what a helper is to help with.
type Order struct {
	Job   string            // path of the job
	Files map[string][]byte // by their paths: the job, its heads and, where it has one, its file of hooks
}
