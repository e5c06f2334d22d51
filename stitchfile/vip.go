package stitchfile

func init() {
	RegisterFormat(Format{
		Name:       "VIP",
		Extensions: []string{"vip"},
		Doc:        "as HUS, but with colours that no open description unlocks",
		Carries:    Carries{Colours: "none", Trims: true},
		Recognise:  startsWith("\x5D\xFC\x90\x01"),
		Config:     configHUS("VIP"),
		Decode: func(data []byte, _ *Decoder) (*Design, error) {
			return decodeHUS("VIP", data, func(a *assembler, _ []byte, _ int) {
				a.warn(husHeader, "the colours are scrambled and left out")
			})
		},
	})
}
