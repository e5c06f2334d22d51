// Package render draws what package analyse found: pictures of a design, the
// card to pin up by the machine, templates to print, and cut lines for a cutting
// machine.
//
// The pictures are Views, listed by Views:
//
//	view, _ := render.ViewNamed("stops")
//	for picture := range view.Draw(design, report, render.Options{Width: 2000}) {
//		err := render.EncodePNG(w, picture.Image, picture.DPI)
//		...
//	}
//
// Everything is drawn at true scale, a thread as wide as it lies on the cloth,
// and every picture carries the resolution at which it prints as large as the
// design. Text stands at a contrast of 7:1 or better, and no meaning hangs on
// hue alone.
//
// Card, Page and Views take a context in their options, and stop soon after it ends.
//
// Nothing is measured here that a report lacks: where it has no satin, no
// pieces or no density, the picture says so in words.
package render
