package examples

import (
	"os"
	"path/filepath"
	"testing"

	"halfpour/pourplan"
)

func TestJobsRead(t *testing.T) {
	jobs, err := filepath.Glob("*/job.toml")
	if err != nil || len(jobs) < 4 {
		t.Fatalf("found %v, %v", jobs, err)
	}
	for _, path := range jobs {
		data, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		if _, err := pourplan.ReadJob(path, data); err != nil {
			t.Error(err)
		}
	}
}
