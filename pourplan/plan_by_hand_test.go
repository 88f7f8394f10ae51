package pourplan_test

import (
	"encoding/json"
	"fmt"
	"math"
	"sort"
	"strings"
	"testing"

	"halfpour/pourplan/internal/byhand"
)

// A figure of plan.json that nobody has computed by hand fails.
func TestPlanByHand(t *testing.T) {
	p := byhand.Plan(t)
	data, err := p.JSON()
	if err != nil {
		t.Fatal(err)
	}
	var tree any
	if err := json.Unmarshal(data, &tree); err != nil {
		t.Fatal(err)
	}
	got := map[string]any{}
	flattenJSON("", tree, got)
	hand := byhand.NewCells()
	var paths []string
	for path := range got {
		paths = append(paths, path)
	}
	sort.Strings(paths)
	figures := 0
	for _, path := range paths {
		want, ok := hand[path]
		switch v := got[path].(type) {
		case float64:
			figures++
			if w, number := want.(float64); !ok || !number {
				t.Errorf("plan.json has %s = %v, which nobody has computed by hand: add a cell", path, v)
			} else if math.Abs(v-w) > handShare(path)*math.Max(1, math.Abs(w)) {
				t.Errorf("%s: the plan has %.12g, by hand it is %.12g", path, v, w)
			}
		case string:
			if !ok && strings.ContainsAny(v, "0123456789") && !strings.HasSuffix(path, ".text") {
				t.Errorf("plan.json has %s = %q, which nobody has written by hand: add a cell", path, v)
			} else if ok && want != v {
				t.Errorf("%s: the plan has %q, by hand it is %v", path, v, want)
			}
		default:
			if ok && want != v {
				t.Errorf("%s: the plan has %v, by hand it is %v", path, v, want)
			}
		}
		delete(hand, path)
	}
	for path, want := range hand {
		t.Errorf("%s is %v by hand, and not in plan.json", path, want)
	}
	if figures < 300 {
		t.Errorf("looked at %d figures only", figures)
	}
}

// flattenJSON puts each leaf of a document at its path, such as
// "rubber.halves[0].a_g".
func flattenJSON(path string, v any, into map[string]any) {
	switch v := v.(type) {
	case map[string]any:
		for key, child := range v {
			flattenJSON(strings.TrimPrefix(path+"."+key, "."), child, into)
		}
	case []any:
		for i, child := range v {
			flattenJSON(fmt.Sprintf("%s[%d]", path, i), child, into)
		}
	default:
		into[path] = v
	}
}

// handShare is how near a figure must come to the one by hand. The time to open
// is solved step by step, by hand in another way.
func handShare(path string) float64 {
	if path == "casting.open_after_s" {
		return 5e-3
	}
	return 1e-9
}
