package geomtest

import (
	"bytes"
	"encoding/binary"
	"flag"
	"math/rand/v2"
	"runtime"
	"sync"
	"sync/atomic"
	"testing"
	"time"
)

var mangled = flag.Int("mangled", 5000, "how many broken copies of its samples each reader is given")

// Mangle gives try as many broken copies of the samples as -mangled says, on all
// processors, and reports how many a second that were. It does not learn from
// what try does, as fuzzing would, but is many times as fast. A copy that
// panics, or takes very long, fails the test and is told.
func Mangle(t *testing.T, samples [][]byte, try func(t testing.TB, data []byte)) {
	t.Helper()
	const seed = 8
	const slow = 20 * time.Second // a machine may have better things to do for a while
	var done atomic.Int64
	var wait sync.WaitGroup
	start, workers := time.Now(), runtime.GOMAXPROCS(0)
	for w := range workers {
		wait.Go(func() {
			m := mangler{rand.New(rand.NewPCG(seed, uint64(w))), samples}
			var data []byte
			defer func() {
				if r := recover(); r != nil {
					t.Errorf("panic on %q: %v", data, r)
				}
			}()
			for n := w; n < *mangled && !t.Failed(); n += workers {
				data = m.next()
				began := time.Now()
				try(t, data)
				if took := time.Since(began); took > slow {
					t.Errorf("%v on %q", took, data)
				}
				done.Add(1)
			}
			if t.Failed() {
				t.Logf("last copy %q", data)
			}
		})
	}
	wait.Wait()
	t.Logf("%d copies, %.0f a second", done.Load(), float64(done.Load())/time.Since(start).Seconds())
}

// mangler makes broken copies.
type mangler struct {
	*rand.Rand
	samples [][]byte
}

// next returns a sample with one to eight things wrong with it.
func (m mangler) next() []byte {
	data := bytes.Clone(m.samples[m.IntN(len(m.samples))])
	for range 1 + m.IntN(8) {
		data = m.spoil(data)
	}
	return data
}

// tokens are what text formats trip over.
var tokens = [][]byte{
	[]byte("NaN"), []byte("-inf"), []byte("1e999"), []byte("-1"), []byte("0"), []byte("4294967295"), []byte("9223372036854775808"),
	[]byte("1,5"), []byte("\""), []byte("'"), []byte("<"), []byte(">"), []byte("&#x0;"), []byte("]]>"), []byte("[["), []byte("]"), []byte("="),
	[]byte("\r\n"), []byte("\n"), []byte("\x00"), []byte("\xff\xfe"), []byte("\xef\xbb\xbf"), []byte("\\"), []byte("/"), []byte("../"), []byte("#"),
}

func (m mangler) spoil(data []byte) []byte {
	if len(data) == 0 {
		return []byte{byte(m.Uint32())}
	}
	at := m.IntN(len(data))
	run := min(len(data)-at, 1+m.IntN(1+m.IntN(64)))
	switch m.IntN(10) {
	case 0: // a bit
		data[at] ^= 1 << m.IntN(8)
	case 1: // a byte
		data[at] = byte(m.Uint32())
	case 2: // a word, often extreme
		var word [4]byte
		binary.LittleEndian.PutUint32(word[:], []uint32{0, 1, 0x7fffffff, 0x80000000, 0xffffffff, 0x7f800000, 0x7fc00000, m.Uint32()}[m.IntN(8)])
		copy(data[at:], word[:])
	case 3: // cut off
		data = data[:at]
	case 4: // a run lost
		data = append(data[:at], data[at+run:]...)
	case 5: // a run doubled
		data = insert(data, at, bytes.Clone(data[at:at+run]))
	case 6: // a run from elsewhere
		from := m.samples[m.IntN(len(m.samples))]
		if len(from) > 0 {
			k := m.IntN(len(from))
			data = insert(data, at, from[k:min(len(from), k+run)])
		}
	case 7: // a word that means something
		data = insert(data, at, tokens[m.IntN(len(tokens))])
	case 8: // the same in the place of what is there
		copy(data[at:], tokens[m.IntN(len(tokens))])
	case 9: // two runs exchanged
		to := m.IntN(len(data))
		run = min(run, len(data)-to)
		for i := range run {
			data[at+i], data[to+i] = data[to+i], data[at+i]
		}
	}
	return data
}

func insert(data []byte, at int, what []byte) []byte {
	return append(data[:at:at], append(bytes.Clone(what), data[at:]...)...)
}
