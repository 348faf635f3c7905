package benchmarks

// ripWood is one kind of lumber for sale whose parts may lie beside each other, widths in 1/32 in
// or in millimetres. Full is its actual width, 0 where every board has one of its own, of those in
// widths. A narrow part's blank is less than half of what is usable of the narrowest board for
// sale; a wide one's is more, and any board for sale holds it. The price, in cents a foot or a
// metre of a board as wide as the first of widths, is what those of the yard vary around.
type ripWood struct {
	material, section string
	full              int
	widths            []int // of what the yard sells, narrowest first; just full where there is one
	wide, narrow      []int // finished parts
	thickness         string
	price             int
}

// in gives 1/32 in.
func in(whole, thirtySeconds int) int { return 32*whole + thirtySeconds }

var (
	inch6  = []int{in(5, 16)}
	inch8  = []int{in(7, 8)}
	inch10 = []int{in(9, 8)}
)

var inchSized = []ripWood{
	{"redwood", "2x6", inch6[0], inch6, []int{in(5, 0), in(3, 16)}, []int{in(2, 16), in(1, 16)},
		"1 1/2", 248},
	{"hemlock", "2x6", inch6[0], inch6, []int{in(5, 0), in(3, 0)},
		[]int{in(2, 16), in(2, 0), in(1, 16)}, "1 1/2", 157},
	{"cedar", "1x6", inch6[0], inch6, []int{in(5, 0), in(4, 0)}, []int{in(2, 8), in(1, 24)}, "3/4",
		214},
	{"pine", "1x8", inch8[0], inch8, []int{in(6, 24), in(4, 16)},
		[]int{in(3, 8), in(2, 8), in(1, 16)}, "3/4", 176},
	{"cedar", "1x8", inch8[0], inch8, []int{in(6, 16), in(5, 0)}, []int{in(3, 0), in(2, 0)}, "3/4",
		298},
	{"douglas fir", "2x8", inch8[0], inch8, []int{in(6, 24), in(4, 0)},
		[]int{in(3, 8), in(2, 16), in(1, 16)}, "1 1/2", 181},
	{"douglas fir", "2x10", inch10[0], inch10, []int{in(8, 0), in(5, 16)},
		[]int{in(3, 16), in(2, 24), in(1, 24)}, "1 1/2", 246},
}

var inchRandom = []ripWood{
	{"cherry", "4/4", 0, randomInch, []int{in(4, 16), in(3, 8)},
		[]int{in(2, 4), in(1, 24), in(1, 8)}, "3/4", 540},
	{"red oak", "4/4", 0, randomInch, []int{in(4, 24), in(3, 0)}, []int{in(2, 0), in(1, 16)}, "3/4",
		410},
	{"soft maple", "4/4", 0, randomInch, []int{in(4, 0), in(2, 24)}, []int{in(2, 8), in(1, 24)},
		"3/4", 330},
}

var randomInch = []int{in(5, 0), in(5, 16), in(6, 8), in(6, 24), in(7, 16), in(8, 4)}

var metricSized = []ripWood{
	{"spruce", "38x140mm", 140, []int{140}, []int{130, 90}, []int{60, 40}, "38", 480},
	{"larch", "45x145mm", 145, []int{145}, []int{130, 95}, []int{62, 45}, "45", 1090},
	{"larch", "27x190mm", 190, []int{190}, []int{170, 110}, []int{85, 60, 40}, "27", 960},
	{"pine", "21x170mm", 170, []int{170}, []int{160, 100}, []int{75, 50, 35}, "21", 420},
	{"douglas fir", "60x200mm", 200, []int{200}, []int{180, 120}, []int{90, 60}, "60", 2010},
	{"spruce", "44x220mm", 220, []int{220}, []int{200, 130}, []int{95, 70, 45}, "44", 890},
}

var metricRandom = []ripWood{
	{"oak", "4/4", 0, randomMetric, []int{115, 80}, []int{55, 40, 30}, "20", 1560},
	{"ash", "4/4", 0, randomMetric, []int{120, 75}, []int{52, 35}, "20", 1180},
}

var randomMetric = []int{130, 145, 160, 175, 190, 210}

// narrowNames and wideNames are what such parts are.
var (
	narrowNames = []string{"rail", "slat", "stile", "batten", "cleat", "edge strip"}
	wideNames   = []string{"shelf", "apron", "top stave", "side", "seat board", "plinth"}
)

// across says where over the width a defect of a kind lies, and how wide it is, in 1/32 in and in
// millimetres. A kind that is not here goes from edge to edge always.
var across = map[string]struct {
	at       string // edge, middle or anywhere
	inch, mm [2]int
}{
	"sound knot":   {"edge", [2]int{16, 48}, [2]int{12, 38}},
	"loose knot":   {"edge", [2]int{16, 48}, [2]int{12, 38}},
	"check":        {"middle", [2]int{8, 24}, [2]int{6, 18}},
	"stain":        {"anywhere", [2]int{24, 64}, [2]int{18, 50}},
	"wane":         {"edge", [2]int{8, 28}, [2]int{6, 22}},
	"pitch pocket": {"anywhere", [2]int{8, 32}, [2]int{6, 25}},
	"pin hole":     {"anywhere", [2]int{4, 8}, [2]int{3, 6}},
}
