package making

import "testing"

// Seen from the near edge, a wall of 17 mm hides less than 2 mm of the floor beside
// it: lettering stands further off.
func TestNearWallHidesNoLettering(t *testing.T) {
	look := lyingCamera.Look
	if hidden := 17 * look.Y / -look.Z; hidden < 0 || hidden > 2 {
		t.Errorf("a wall of 17 mm hides %.1f mm", hidden)
	}
}
