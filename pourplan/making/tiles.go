package making

import (
	"context"

	"halfpour/moldbox"
)

// TestTiles makes small pieces of each mold's first halves to try before the whole is
// printed. It fails with MoldErrors, a StopError, or as its context.
func (r *Run) TestTiles(ctx context.Context, opt Options) (tiles [][]moldbox.Tile, err error) {
	if err := r.Open(ctx, opt.Progress); err != nil {
		return nil, err
	}
	if stopped := r.stopped(); stopped != nil && !opt.Anyway {
		return nil, &StopError{stopped}
	}
	tiles = make([][]moldbox.Tile, len(r.Molds))
	at := map[*Mold]int{}
	for i, m := range r.Molds {
		at[m] = i
	}
	return tiles, r.each(ctx, func(ctx context.Context, m *Mold) (err error) {
		tiles[at[m]], err = m.Solids.TestTiles(ctx, m.tolerance(opt))
		return err
	})
}
