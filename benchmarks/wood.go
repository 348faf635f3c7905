package benchmarks

// wood is one kind of lumber for sale and what parts are made of it. full is its actual width,
// narrow one that an allowance for both edges still leaves. The price, in cents a foot or a metre,
// is what the lengths for sale vary around.
type wood struct {
	material, section       string
	full, narrow, thickness string
	price                   int
}

var inchWoods = []wood{
	{"redwood", "2x4", "3 1/2", "3", "1 1/2", 165},
	{"redwood", "2x6", "5 1/2", "5", "1 1/2", 248},
	{"redwood", "4x4", "3 1/2", "3", "3 1/2", 390},
	{"cedar", "1x6", "5 1/2", "5", "3/4", 214},
	{"cedar", "2x4", "3 1/2", "3", "1 1/2", 196},
	{"cedar", "2x6", "5 1/2", "5", "1 1/2", 305},
	{"douglas fir", "2x4", "3 1/2", "3", "1 1/2", 92},
	{"douglas fir", "2x8", "7 1/4", "6 3/4", "1 1/2", 181},
	{"douglas fir", "4x4", "3 1/2", "3", "3 1/2", 268},
	{"pine", "1x4", "3 1/2", "3", "3/4", 88},
	{"pine", "1x8", "7 1/4", "6 3/4", "3/4", 176},
	{"hemlock", "2x6", "5 1/2", "5", "1 1/2", 157},
}

var metricWoods = []wood{
	{"spruce", "38x89mm", "89", "80", "38", 310},
	{"spruce", "38x140mm", "140", "130", "38", 480},
	{"larch", "27x90mm", "90", "80", "27", 455},
	{"larch", "45x145mm", "145", "135", "45", 1090},
	{"larch", "90x90mm", "90", "80", "90", 1480},
	{"pine", "21x120mm", "120", "110", "21", 295},
	{"pine", "44x95mm", "95", "85", "44", 520},
	{"douglas fir", "60x120mm", "120", "110", "60", 1210},
}

var commissionNames = []string{
	"orchard table", "mill bench", "long bench", "window seat", "pantry shelves", "porch swing",
	"cradle", "loft bed",
	"garden trestle", "harvest table", "boot bench", "plant stand", "book wall", "day bed",
	"wash stand", "reading desk",
}

var partNames = []string{
	"leg", "rail", "stretcher", "slat", "shelf", "stile", "apron", "cleat", "brace", "batten",
	"post", "cap",
}

// defectKinds have the least and greatest span, in 1/32 in and in millimetres; some begin at a
// board's end.
var defectKinds = []struct {
	kind       string
	inch, mm   [2]int
	atBoardEnd bool
}{
	{"sound knot", [2]int{24, 64}, [2]int{18, 50}, false},
	{"loose knot", [2]int{24, 64}, [2]int{18, 50}, false},
	{"check", [2]int{64, 288}, [2]int{50, 230}, true},
	{"split", [2]int{64, 256}, [2]int{50, 200}, true},
	{"stain", [2]int{64, 384}, [2]int{50, 300}, false},
	{"wane", [2]int{128, 576}, [2]int{100, 450}, false},
	{"pitch pocket", [2]int{32, 128}, [2]int{25, 100}, false},
	{"pin hole", [2]int{4, 16}, [2]int{3, 12}, false},
}
