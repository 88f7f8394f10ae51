package desk

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"halfpour/geom"
	"halfpour/pourplan"
)

// Ray is how a person looks at what is pointed at, in mm along the head file's
// axes.
type Ray struct {
	From geom3 `json:"from"`
	Way  geom3 `json:"way"`
}

type geom3 [3]float64

func (v geom3) vec() geom.Vec { return geom.Vec{X: v[0], Y: v[1], Z: v[2]} }

// Pointed is what a person points at in the model.
type Pointed struct {
	Key  string `json:"key"`  // of what is to lie there: of a LyingPoint, "head.nose", "head.back", or "keeper" for a new one
	Item int    `json:"item"` // in the list at the key; -1 for a key that is one place
	Rays []Ray  `json:"rays"` // one, of a new keeper two
}

// What is wrong with pointing, in words for a person.
var (
	ErrBesideHead  = errors.New("that is beside the head: point at the head")
	ErrAlongPlane  = errors.New("the parting plane is seen from its edge: turn the model, then point at it")
	errNotPointing = errors.New("cannot be pointed at")
)

// snap is within what angle of an axis a direction is taken for that axis,
// radians, and edgeOn from what angle on a ray meets the parting plane.
const snap, edgeOn = 30 * math.Pi / 180, 5 * math.Pi / 180

// Point returns the text of a job with what a person has pointed at, in the head
// file's own coordinates and unit. axes are directions in which the head may well
// face, besides the file's axes. A direction runs from the middle of the head to
// the facet that the ray meets first. Errors are those of this file and of package
// pourplan.
func Point(src string, h pourplan.LyingHead, axes []geom.Vec, p Pointed) (string, error) {
	want := 1
	if p.Key == newKeeper {
		want = 2
	}
	if len(p.Rays) != want {
		return "", fmt.Errorf("%s: %w with %d rays", p.Key, errNotPointing, len(p.Rays))
	}
	switch p.Key {
	case h.Keys.Nose, h.Keys.Back:
		return face(src, h, axes, p)
	case newKeeper:
		return addKeeper(src, h, p.Rays)
	}
	i := slices.IndexFunc(h.Points, func(l pourplan.LyingPoint) bool { return l.Key == p.Key && l.Item == p.Item })
	if i < 0 {
		return "", fmt.Errorf("%s: %w", p.Key, errNotPointing)
	}
	l := h.Points[i]
	at, err := inPlane(h, p.Rays[0])
	if err != nil {
		return "", err
	}
	if l.Outline {
		if at, err = onOutline(h, p.Rays[0], at); err != nil {
			return "", err
		}
	}
	value := pourplan.FilePoint(at, h.Unit)
	if l.InHook {
		flat := h.FromFile.Point(at)
		value = "[" + pourplan.FileLength(flat.X, 1) + ", " + pourplan.FileLength(flat.Y, 1) + "]"
	}
	if l.Item >= 0 {
		return pourplan.SetItem(src, l.Key, l.Item, value)
	}
	return pourplan.SetKey(src, l.Key, value)
}

// inPlane is where a ray meets the parting plane.
func inPlane(h pourplan.LyingHead, r Ray) (geom.Vec, error) {
	from, way, n := r.From.vec(), r.Way.vec().Unit(), h.Pose.Across()
	steep := way.Dot(n)
	if math.Abs(steep) < math.Sin(edgeOn) {
		return geom.Vec{}, ErrAlongPlane
	}
	at := from.Add(way.Mul((h.Pose.Parting - from.Dot(n)) / steep))
	return at.Sub(n.Mul(at.Dot(n) - h.Pose.Parting)), nil
}

// onOutline is the place of the head's outline in the parting plane that is nearest
// to where a ray meets the head, or else the plane.
func onOutline(h pourplan.LyingHead, r Ray, flat geom.Vec) (geom.Vec, error) {
	if at, ok := hit(h, r); ok {
		flat = at
	}
	n := h.Pose.Across()
	at, ok := h.Mesh.NearestCut(n, h.Pose.Parting/h.Unit, flat.Mul(1/h.Unit))
	if !ok {
		return geom.Vec{}, errors.New("the parting plane misses the head: slide it first")
	}
	return at.Mul(h.Unit), nil
}

// hit is where a ray first meets the head.
func hit(h pourplan.LyingHead, r Ray) (geom.Vec, bool) {
	at, ok := h.Mesh.FirstHit(r.From.vec().Mul(1/h.Unit), r.Way.vec())
	return at.Mul(h.Unit), ok
}

// face turns nose or back to where a ray meets the head. What else of the pose
// no longer goes with it turns too.
func face(src string, h pourplan.LyingHead, axes []geom.Vec, p Pointed) (string, error) {
	at, ok := hit(h, p.Rays[0])
	if !ok {
		return "", ErrBesideHead
	}
	box := h.Mesh.BoundingBox()
	to := nearAxis(at.Sub(box.Centre().Mul(h.Unit)), axes)
	was, pose := h.Pose, h.Pose
	turned, other := &pose.Nose, &pose.Back
	if p.Key == h.Keys.Back {
		turned, other = other, turned
	}
	if far := other.Unit().Cross(to).Norm(); far < math.Sin(math.Pi/4) { // the other would lie along it
		*other = turned.Mul(-math.Copysign(1, other.Dot(to)))
	}
	*turned = to
	text, err := setAll(src, [][2]string{{h.Keys.Nose, pourplan.Direction(pose.Nose).String()}, {h.Keys.Back, pourplan.Direction(pose.Back).String()}},
		[]bool{pose.Nose != was.Nose, pose.Back != was.Back})
	if err != nil || pose.Left().Dot(was.Left()) > 1-1e-6 {
		return text, err
	}
	// The left flank is another: what was said of it, and where the plane is
	// along it, is of the pose before.
	if text, err = pourplan.DropKey(text, h.Keys.Left); err != nil || math.Abs(pose.Left().Dot(was.Left())) > 1-1e-6 {
		return text, err
	}
	return pourplan.SetKey(text, h.Keys.Parting, pourplan.FileLength(box.Centre().Dot(pose.Across())*h.Unit, h.Unit))
}

func setAll(src string, keys [][2]string, which []bool) (text string, err error) {
	text = src
	for i, k := range keys {
		if which[i] {
			if text, err = pourplan.SetKey(text, k[0], k[1]); err != nil {
				return "", err
			}
		}
	}
	return text, nil
}

// nearAxis is the axis that a direction was meant for, or the direction itself.
func nearAxis(way geom.Vec, axes []geom.Vec) geom.Vec {
	best, near := way.Unit(), math.Cos(snap)
	for _, list := range [][]geom.Vec{axes, {{X: 1}, {Y: 1}, {Z: 1}}} {
		for _, a := range list {
			for _, a := range []geom.Vec{a.Unit(), a.Unit().Neg()} {
				if c := a.Dot(way.Unit()); c > near {
					best, near = a, c
				}
			}
		}
		if near > math.Cos(snap) {
			break
		}
	}
	return best
}

// newKeeper is the key of a keeper that is not there yet, and its wire, mm (common
// practice, no source).
const (
	newKeeper  = "keeper"
	keeperWire = 0.9
)

// addKeeper adds a straight keeper from one place to another.
func addKeeper(src string, h pourplan.LyingHead, rays []Ray) (string, error) {
	var ends [2]string
	for i, r := range rays {
		at, err := inPlane(h, r)
		if err != nil {
			return "", err
		}
		ends[i] = pourplan.FilePoint(at, h.Unit)
	}
	if ends[0] == ends[1] {
		return "", errors.New("a keeper runs from one place to another: point at two")
	}
	texts, n := pourplan.KeyTexts(src), 0
	for hasTable(texts, fmt.Sprintf("%s[%d]", newKeeper, n)) {
		n++
	}
	text := pourplan.AddTable(src, newKeeper)
	text, err := pourplan.SetKey(text, fmt.Sprintf("%s[%d].wire", newKeeper, n), fmt.Sprint(keeperWire))
	if err != nil {
		return "", err
	}
	return pourplan.SetKey(text, fmt.Sprintf("%s[%d].points", newKeeper, n), "["+ends[0]+", "+ends[1]+"]")
}
