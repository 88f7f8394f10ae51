package parallel

import (
	"context"
	"errors"
	"math"
	"reflect"
	"testing"
)

type odd struct {
	B        bool
	I        int
	T        [][3]int32
	F        float32
	X        []float64
	S        string
	None, No []byte
	P, Q     *odd
}

// What another engine hands over is exactly what it has: also negative zeros,
// infinities, and lists that are empty or not there.
func TestPackedValuesAreExact(t *testing.T) {
	want := odd{true, -300, [][3]int32{{1, -2, math.MaxInt32}}, 0.1, []float64{math.Copysign(0, -1), math.Inf(1), 0.1, math.SmallestNonzeroFloat64}, "Öse", []byte{}, nil, &odd{X: []float64{}}, nil}
	data, err := pack(want)
	if err != nil {
		t.Fatal(err)
	}
	got, err := unpack[odd](data)
	if err != nil || !reflect.DeepEqual(got, want) || !math.Signbit(got.X[0]) {
		t.Errorf("got %+v, %v\nwant %+v", got, err, want)
	}
	for n := range data {
		if _, err := unpack[odd](data[:n]); err == nil {
			t.Errorf("%d of %d bytes are taken for a value", n, len(data))
		}
	}
	if _, err := unpack[odd](append(data, 0)); err == nil {
		t.Error("a byte too many is taken")
	}
	for _, v := range []any{struct{ hidden int }{1}, map[int]int{}, func() {}} {
		if _, err := pack(v); err == nil {
			t.Errorf("%T loses what it has, or cannot be packed", v)
		}
	}
}

// elsewhere has some pieces already, and says what it is asked for.
type elsewhere struct {
	pieces map[string][]byte
	asked  []string
}

func (e *elsewhere) Piece(_ context.Context, name string, do func() error, _ func() ([]byte, error)) ([]byte, error) {
	e.asked = append(e.asked, name)
	if data := e.pieces[name]; data != nil {
		return data, nil
	}
	return nil, do()
}

// A piece is taken from elsewhere where it has been done, and else made here: also
// where what comes is no such piece.
func TestShare(t *testing.T) {
	three, err := pack(3)
	if err != nil {
		t.Fatal(err)
	}
	e := &elsewhere{pieces: map[string][]byte{"left/a": three, "broken": {}}}
	ctx := WithSharer(context.Background(), e)
	here := func() (int, error) { return 7, nil }
	for _, c := range []struct {
		ctx  context.Context
		name string
		want int
	}{{context.Background(), "a", 7}, {Of(context.Background(), "left"), "a", 7}, {Of(ctx, "left"), "a", 3}, {Of(ctx, "right"), "a", 7}, {ctx, "broken", 7}} {
		if got, err := Share(c.ctx, c.name, here); err != nil || got != c.want {
			t.Errorf("%s: %d, %v, want %d", c.name, got, err, c.want)
		}
	}
	if want := []string{"left/a", "right/a", "broken"}; !reflect.DeepEqual(e.asked, want) {
		t.Errorf("asked for %v, want %v", e.asked, want)
	}
	fault := errors.New("no such shape")
	if _, err := Share(ctx, "c", func() (int, error) { return 0, fault }); !errors.Is(err, fault) {
		t.Errorf("got %v", err)
	}
	if Pieces(ctx, 5) != 5 || Pieces(context.Background(), 5) != 0 {
		t.Error("a loop of pieces that nobody shares has all of them at once")
	}
}
