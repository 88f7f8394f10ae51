package sheet

import (
	"fmt"
	"strings"
	"testing"

	"halfpour/pourplan"
	"halfpour/pourplan/internal/plantest"
)

// ballsWith is the plan of five balls with findings.
func ballsWith(t *testing.T, fs ...pourplan.PlanFinding) *pourplan.Plan {
	t.Helper()
	plan := sheetPlan(t, plantest.Job(5, ""))
	plan.Findings = fs
	return plan
}

// Every finding that says stop or warn is on the three pages in full, with its
// letter and its figures, those of several cavities once; notes are not.
func TestSheetShowsEveryFinding(t *testing.T) {
	fs := []pourplan.PlanFinding{{Severity: "note", Message: "left in the plan"}}
	for i := range 6 {
		for cavity := range 5 {
			fs = append(fs, pourplan.PlanFinding{Severity: "warn", Code: fmt.Sprint("code", i), Mark: string(rune('a' + i)), Cavity: fmt.Sprintf("cavity %d", cavity+1),
				Message: fmt.Sprintf("there is too little rubber between the sprue and the head, which is kind %d of what may be wrong", i),
				Value:   1.5 - 0.1*float64(cavity), Limit: 3, Unit: "mm", Remedy: "use a longer gate, or place it on the highest part of the head"})
		}
	}
	plan := ballsWith(t, fs...)
	for _, paper := range []Paper{A4, Letter} {
		pages, err := layOut(plan, drawingsOf(t, plantest.Mold(t, 5)), nil, paper)
		if err != nil || len(pages) != 3 {
			t.Fatalf("%s: %d pages, %v", paper.Name, len(pages), err)
		}
		all := textOf(pages)
		for i := range 6 {
			want := fmt.Sprintf("Warning %c Cavity 1 to 5: there is too little rubber between the sprue and the head, which is kind %d of what may be wrong (1.1 mm, limit 3 mm).", 'a'+i, i)
			if n := strings.Count(all, want); n != 1 {
				t.Errorf("%s: %d times %q in %s", paper.Name, n, want, all)
			}
		}
		if strings.Contains(all, "left in the plan") {
			t.Error("a note is on the sheet")
		}
	}
}

// Findings that leave the drawings no room have a page, and none is cut short.
func TestManyFindingsHaveTheirPage(t *testing.T) {
	var fs []pourplan.PlanFinding
	for i := range 40 {
		fs = append(fs, pourplan.PlanFinding{Severity: "warn", Message: fmt.Sprintf("this is wrong, and it is number %d of all the things that may be wrong with a mold of five heads", i), Remedy: "change it"})
	}
	plan := ballsWith(t, fs...)
	all := sheetText(t, plan, drawingsOf(t, plantest.Mold(t, 5)))
	for i := range fs {
		if !strings.Contains(all, fmt.Sprintf("it is number %d of all the things that may be wrong with a mold of five heads. Change it.", i)) {
			t.Errorf("finding %d is not on the sheet in full", i)
		}
	}
}

// A mold that is built although the checks say stop says so large on page 1,
// with each reason; any other does not.
func TestSheetSaysStop(t *testing.T) {
	stop := func(i int) pourplan.PlanFinding {
		return pourplan.PlanFinding{Severity: "stop", Cavity: "cavity 1", Message: fmt.Sprintf("wire %d leaves the rubber", i), Remedy: "enlarge frame.to_wall"}
	}
	warn := pourplan.PlanFinding{Severity: "warn", Message: "thin rubber"}
	for n, want := range []string{"", "wire 0", "wire 1", "wire 2", "wire 3", "wire 4", "and more"} {
		fs := []pourplan.PlanFinding{warn}
		for i := range n {
			fs = append(fs, stop(i))
		}
		pages, err := layOut(ballsWith(t, fs...), drawingsOf(t, plantest.Mold(t, 5)), nil, Letter)
		if err != nil {
			t.Fatal(err)
		}
		banners := find(pages[:1], "STOP: DO NOT POUR")
		if n == 0 {
			if len(find(pages, "STOP")) != 0 {
				t.Error("a sheet without stops says stop")
			}
			continue
		}
		if len(banners) != 1 || banners[0].size < titleStyle.size || !banners[0].white {
			t.Errorf("%d stops: the first page has the banner %v", n, banners)
		}
		if n := len(find(pages[1:], "STOP: see page 1")); n != len(pages)-1 {
			t.Errorf("%d of %d further pages say stop", n, len(pages)-1)
		}
		if desk, err := layOutDesk(ballsWith(t, fs...), nil, Letter); err != nil || len(find(desk, "STOP: DO NOT POUR")) != 1 {
			t.Errorf("the desk sheet does not say stop: %v", err)
		}
		if first := textOf(pages[:1]); !strings.Contains(first, want) {
			t.Errorf("%d stops: page 1 does not say %q", n, want)
		}
		if all := textOf(pages); strings.Count(all, fmt.Sprintf("Cavity 1: wire %d leaves the rubber. Enlarge frame.to_wall.", n-1)) != 1 {
			t.Errorf("%d stops: no remedy for the last", n)
		}
	}
}
