package pourplan

// The tables of shopping, clock and money. Prices are plain numbers in the
// job's own currency.

// BuyingTable is [buying]: how much rubber to buy, out of the [[kit]] tables.
type BuyingTable struct {
	Molds     int
	Have      Gram // A and B together
	ShelfLife *Seconds
}

func (t *BuyingTable) keys() []key {
	return []key{
		{"molds", &t.Molds, 0, in(0, 1000), "of this kind, to buy rubber for; 0: as many as casting.heads takes at the shorter life", "how many molds of this kind to buy rubber for"},
		{"have", &t.Have, 0, in(0, noMore), "A and B together, still good, on your shelf", ""},
		{"shelf_life", &t.ShelfLife, nil, in(0, noLater), "shelf life of closed cans; left out: typical", ""},
	}
}

// noLater is a time that only keeps slips of the hand out: a hundred years, s.
const noLater = 100 * 365 * 86400

// KitTable is one [[kit]]: a size in which the rubber is sold, A with the B
// that belongs to it. Either Mass, of both, or A is given.
type KitTable struct {
	Name    string
	Mass, A Gram
	Price   float64 // of the whole kit
}

func (t *KitTable) keys() []key {
	return []key{
		{"name", &t.Name, nil, nil, "for the list; left out: its mass", ""},
		{"mass", &t.Mass, nil, in(10, noMore), "of A and B together. Either mass or a", ""},
		{"a", &t.A, nil, in(10, noMore), "of A alone, as some cans are labelled; B comes with it", ""},
		{"price", &t.Price, given, in(0.001, maxPrice), "of the whole kit", "write price = 45; put rubber you already have into buying.have"},
	}
}

// EveningTable is [evening]: the work at the bench by the clock. Figures left
// out are common practice, no source.
type EveningTable struct {
	Start            *Moment // when the first B meets its A
	Room             Celsius
	Mix, Deair, Pour Seconds
	Cup              Millilitre // 0: any
	PostCure         Seconds    // 0: none
	PostCureAt       Celsius
}

func (t *EveningTable) keys() []key {
	const day = 86400
	return []key{
		{"start", &t.Start, nil, nil, "when you start mixing; left out: no clock times", ""},
		{"room", &t.Room, sheetRoom, in(5, 40), "temperature of the room where the rubber cures; data sheets assume 23", "rubber is not made to cure any colder or hotter"},
		{"mix", &t.Mix, 5 * 60, in(0, day), "to stir a mix", ""},
		{"deair", &t.Deair, 5 * 60, in(0, day), "in the chamber, with rubber.vacuum", ""},
		{"pour", &t.Pour, 8 * 60, in(0, day), "to brush and pour one half", ""},
		{"cup", &t.Cup, 0, in(0, noMore), "your largest cup; 0: any size", ""},
		{"post_cure", &t.PostCure, 0, in(0, 30*day), "warm cure after demolding; 0: none", ""},
		{"post_cure_at", &t.PostCureAt, 60, atMost(250), "temperature of the post-cure; not below room", "the data sheet says how warm"},
	}
}

// PlasticTable is [plastic]: what the frames are printed of.
type PlasticTable struct {
	Name     string // one of plastics, or another with its figures
	Softens  *Celsius
	Density  *Density
	Solid    Percent
	Filament MM
}

func (t *PlasticTable) keys() []key {
	return []key{
		{"name", &t.Name, nil, nil, "plastic of the frames: one from the list below, or another with its figures", ""},
		{"softens", &t.Softens, nil, in(0, 1000), "softening temperature; left out: typical of that plastic", ""},
		{"density", &t.Density, nil, in(0.1, 20), "left out: typical of that plastic", ""},
		{"solid", &t.Solid, 100, in(1, 100), "share of the frame's volume that is plastic, not air", "100 for a tray printed solid"},
		{"filament", &t.Filament, 1.75, in(1, 5), "diameter of the filament", ""},
	}
}

// CostTable is [cost]. A price that is left out is counted as 0, and named as
// not counted.
type CostTable struct {
	Currency                                          string
	Rubber, Metal, Hook, Keeper, Plastic, Other, Shop *float64
}

func (t *CostTable) keys() []key {
	return []key{
		{"currency", &t.Currency, "money", in(1, 12), "word after each sum; give all prices in it", ""},
		{"rubber", &t.Rubber, nil, in(0, maxPrice), "of one kg, A and B together; not with [[kit]] prices", ""},
		{"metal", &t.Metal, nil, in(0, maxPrice), "of one kg", ""},
		{"hook", &t.Hook, nil, in(0, maxPrice), "of each", ""},
		{"keeper", &t.Keeper, nil, in(0, maxPrice), "of each; counts one a head if the job has no [[keeper]]", ""},
		{"plastic", &t.Plastic, nil, in(0, maxPrice), "of one kg of printing plastic", ""},
		{"other", &t.Other, nil, in(0, maxPrice), "for each mold: cups, brushes, release", ""},
		{"shop", &t.Shop, nil, in(0, maxPrice), "of a head like this in a shop", ""},
	}
}

// maxPrice is far above any sum that this is about, and far below where sums
// lose their thousandths.
const maxPrice = 1e9
