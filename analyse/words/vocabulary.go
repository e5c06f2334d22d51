package words

import (
	"image/color"
	"math"
	"sync"
)

// colourWord is an everyday name for a colour, with colours in the middle of what
// it is used for: the plainest first, then others where screens go further than
// thread does.
type colourWord struct {
	name string
	rgb  []uint32
}

// vocabulary has the words in families, each from light to dark: of two colours
// of a design that are named from one family, the darker has the darker word. The
// colours are our own choice, held by tests to what people call theirs; no word is
// a maker's.
var vocabulary = [][]colourWord{
	{{"white", []uint32{0xFFFFFF}}, {"off-white", []uint32{0xEFEAE0}}, {"pale grey", []uint32{0xD6D7D8}}, {"light grey", []uint32{0xB4B5B7}}, {"grey", []uint32{0x8B8C8E}}, {"dark grey", []uint32{0x5B5C5F}}, {"charcoal", []uint32{0x37383B}}, {"black", []uint32{0x0B0B0D}}},
	{{"light blue grey", []uint32{0xA9B9C9}}, {"blue grey", []uint32{0x71839A}}, {"dark blue grey", []uint32{0x3E4D5E}}},
	{{"grey green", []uint32{0x70857A}}, {"dark grey green", []uint32{0x43544B}}},
	{{"cream", []uint32{0xFFF4D8}}, {"beige", []uint32{0xE2D2AE}}, {"tan", []uint32{0xCDA971}}},
	{{"light taupe", []uint32{0xB7A89A}}, {"taupe", []uint32{0x8C7B70}}, {"dark taupe", []uint32{0x5F514B}}},
	{{"khaki", []uint32{0xB3A66F}}},
	{{"light brown", []uint32{0xA8763F}}, {"brown", []uint32{0x774722}}, {"dark brown", []uint32{0x452712}}},
	{{"terracotta", []uint32{0xC8785A}}, {"rust", []uint32{0xB04A22}}},
	{{"reddish brown", []uint32{0x84392B}}},
	{{"coral", []uint32{0xFF6A55}}, {"red", []uint32{0xD81C27, 0xFA0808}}, {"deep red", []uint32{0xAE131F}}, {"dark red", []uint32{0x760E17, 0x3C060A}}},
	{{"brick red", []uint32{0xC6544F}}},
	{{"wine", []uint32{0x6B1A3C}}},
	{{"pale peach", []uint32{0xFEE6D3}}, {"peach", []uint32{0xFFC9A0}}},
	{{"salmon", []uint32{0xF6A28C}}},
	{{"light orange", []uint32{0xFDAE5C}}, {"orange", []uint32{0xF7801B, 0xFF9D08}}, {"deep orange", []uint32{0xE0540F}}},
	{{"light gold", []uint32{0xE6C765}}, {"gold", []uint32{0xDFA42A}}, {"dark gold", []uint32{0x9C7620}}},
	{{"mustard", []uint32{0xC6A512}}},
	{{"pale yellow", []uint32{0xFFF9B4}}, {"light yellow", []uint32{0xFFEF84}}, {"yellow", []uint32{0xFFE11C, 0xFFF020}}, {"deep yellow", []uint32{0xFABB14}}},
	{{"yellow green", []uint32{0xB9D030, 0xDCEE58}}},
	{{"lime green", []uint32{0x8EE61E, 0x78C41E}}},
	{{"light olive", []uint32{0xA3A44F}}, {"olive", []uint32{0x76781F}}, {"dark olive", []uint32{0x474A1A}}},
	{{"moss green", []uint32{0x5C8033, 0x527048}}},
	{{"sage", []uint32{0xA3B391}}},
	{{"pale green", []uint32{0xC6EBBD}}, {"light green", []uint32{0x7CC873, 0x98EE80}}, {"green", []uint32{0x20993A, 0x0E840C}}, {"deep green", []uint32{0x0B6A38}}, {"dark green", []uint32{0x114726}}},
	{{"bright green", []uint32{0x18D53C, 0x10FA10}}},
	{{"mint", []uint32{0x9FE8C4}}},
	{{"sea green", []uint32{0x3FA57C}}},
	{{"light teal", []uint32{0x74BDB5}}, {"teal", []uint32{0x0E8285}}, {"dark teal", []uint32{0x0D4C50}}},
	{{"pale turquoise", []uint32{0xB6ECEA}}, {"turquoise", []uint32{0x22C6C2}}},
	{{"aqua", []uint32{0x38E8EE}}},
	{{"pale blue", []uint32{0xCFE4F6}}, {"light blue", []uint32{0x9AC6F0, 0x7AA4EE}}, {"blue", []uint32{0x1F5CC4, 0x0343DF}}, {"deep blue", []uint32{0x1C3FA8, 0x1410A8}}, {"dark blue", []uint32{0x1A2F6B, 0x060A60}}, {"navy", []uint32{0x101A3E}}},
	{{"sky blue", []uint32{0x4FB1EA}}, {"sea blue", []uint32{0x1B80AB}}, {"petrol blue", []uint32{0x1B5070}}},
	{{"bright blue", []uint32{0x2A72FF, 0x1212FF}}},
	{{"lavender", []uint32{0xC6C0F0}}},
	{{"lilac", []uint32{0xCBA3EE}}, {"light violet", []uint32{0x9384E2}}, {"violet", []uint32{0x6D4CCB, 0x6666B5}}},
	{{"pale purple", []uint32{0xE2CFEC}}, {"light purple", []uint32{0xB67FCE, 0x9868B2}}, {"purple", []uint32{0x7D2C95}}, {"deep purple", []uint32{0x561C80}}, {"dark purple", []uint32{0x381450}}},
	{{"dusty purple", []uint32{0x73638C}}},
	{{"bright purple", []uint32{0xB030E8}}},
	{{"mauve", []uint32{0xA77B97}}},
	{{"plum", []uint32{0x823A66}}, {"dark plum", []uint32{0x461B39}}},
	{{"light magenta", []uint32{0xF48CF0}}, {"magenta", []uint32{0xC9189C, 0xF020E0}}},
	{{"dusty pink", []uint32{0xCB8C8E, 0xC0737A}}},
	{{"pale pink", []uint32{0xFCE1E9}}, {"light pink", []uint32{0xFAB9D0}}, {"pink", []uint32{0xF584AE}}, {"deep pink", []uint32{0xD8406F}}, {"dark pink", []uint32{0xA82F5A}}},
	{{"bright pink", []uint32{0xFF1E9E}}},
}

// colourNamed is a colour word placed in Lab.
type colourNamed struct {
	name         string
	at           []Lab
	family, rank int // rank 0 is the lightest of its family
}

var named = sync.OnceValue(func() []colourNamed {
	var all []colourNamed
	for f, family := range vocabulary {
		for r, w := range family {
			n := colourNamed{name: w.name, family: f, rank: r}
			for _, v := range w.rgb {
				n.at = append(n.at, LabOf(color.RGBA{uint8(v >> 16), uint8(v >> 8), uint8(v), 255}))
			}
			all = append(all, n)
		}
	}
	return all
})

// within is how far a colour lies from what the word is used for, by CIEDE2000, or infinity
// where it surely lies further than a distance.
func (n *colourNamed) within(c Lab, distance float64) float64 {
	least := math.Inf(1)
	for _, a := range n.at {
		if !beyond(c, a, distance) {
			least = min(least, CIEDE2000(c, a))
		}
	}
	return least
}

// ColourWords lists the everyday words for colours, from light to dark in each family.
func ColourWords() []string {
	var out []string
	for _, n := range named() {
		out = append(out, n.name)
	}
	return out
}

// ColourOf gives the colour in the middle of what a word of ColourWords is used for.
func ColourOf(word string) (color.RGBA, bool) {
	for _, family := range vocabulary {
		for _, w := range family {
			if w.name == word {
				v := w.rgb[0]
				return color.RGBA{uint8(v >> 16), uint8(v >> 8), uint8(v), 255}, true
			}
		}
	}
	return color.RGBA{}, false
}
