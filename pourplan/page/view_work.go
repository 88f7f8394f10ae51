package page

import (
	"math"

	"halfpour/pourplan"
)

// work is a list of steps to tick off at the bench.
type work struct {
	Name   string
	Boxes  []string // before each step: one for each half, or one without a name
	Stages []workStage
}

type workStage struct {
	Steps    []workStep
	Cautions []string
}

type workStep struct {
	Number   int
	Do, How  string
	Seconds  int // to count down, 0 for none
	Duration string
}

func newWork(name string, boxes []string, stages []pourplan.Stage) work {
	w := work{Name: name, Boxes: boxes}
	number := 0
	for _, st := range stages {
		stage := workStage{Cautions: st.Cautions}
		for _, step := range st.Steps {
			number++
			row := workStep{Number: number, Do: step.Do, How: step.How}
			if step.Seconds > 0 {
				row.Seconds = int(math.Ceil(step.Seconds))
				row.Duration = pourplan.FormatDuration(float64(row.Seconds))
			}
			stage.Steps = append(stage.Steps, row)
		}
		w.Stages = append(w.Stages, stage)
	}
	return w
}
