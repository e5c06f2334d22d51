// Code generated from page/proof.html by go generate; DO NOT EDIT.

//go:build !pagestubs

package render

func (m markup) proof(v *proofModel) {
	m.is(`<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta name="color-scheme" content="light dark">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; img-src data:; style-src 'unsafe-inline'; base-uri 'none'; form-action 'none'">
<title>`)
	m.text(v.Title)
	m.is(`</title>
<style>`)
	m.is(string(v.CSS))
	m.is(`</style>
</head>
<body>
<h1>`)
	m.text(v.Title)
	m.is(`</h1>
`)
	if !(v.Buyer) {
		m.is(`
<p class="verdict`)
		if v.Ready {
			m.is(` ready`)
		}
		m.is(`">`)
		m.text(v.Verdict)
		m.is(`</p>
`)
		if len(v.Problems) > 0 {
			m.is(`<h2>To mend</h2><ol>`)
			for i1 := range v.Problems {
				v1 := &v.Problems[i1]
				m.is(`<li><span class="kind">`)
				m.text(string(v1.Kind))
				m.is(`</span>: `)
				m.text(v1.Message)
				m.is(`<span class="advice">`)
				m.text(v1.Advice)
				m.is(`</span></li>`)
			}
			m.is(`</ol>`)
		}
		m.is(`
`)
		if len(v.Notes) > 0 {
			m.is(`<h2>Worth a look</h2><ul>`)
			for i2 := range v.Notes {
				v2 := &v.Notes[i2]
				m.is(`<li><span class="kind">`)
				m.text(string(v2.Kind))
				m.is(`</span>: `)
				m.text(v2.Message)
				m.is(`<span class="advice">`)
				m.text(v2.Advice)
				m.is(`</span></li>`)
			}
			m.is(`</ul>`)
		}
		m.is(`
`)
	}
	m.is(`
`)
	m.is(`
`)
	for i3 := range v.Designs {
		v3 := &v.Designs[i3]
		m.is(`
`)
		if v3.Name != "" {
			m.is(`<h2>`)
			m.text(v3.Name)
			m.is(`</h2>`)
		}
		m.is(`
<div class="scroll"><table>
<thead><tr><th></th><th>Size</th><th>Stitches</th><th>Stops</th><th>Threads</th><th>Time, about</th><th>Smallest usual hoop</th>`)
		if !(v.Buyer) {
			m.is(`<th>Made</th>`)
		}
		for _, v4 := range v3.Formats {
			m.is(`<th>`)
			m.text(v4)
			m.is(`</th>`)
		}
		m.is(`</tr></thead>
<tbody>`)
		for i5 := range v3.Sizes {
			v5 := &v3.Sizes[i5]
			m.is(`
<tr><td>`)
			if v5.Picture != "" {
				m.is(`<img src="`)
				m.url(string(v5.Picture))
				m.is(`" alt="">`)
			}
			m.is(`</td><td class="size" data-label="Size">`)
			m.text(v5.MM)
			if v5.MM != "" && v5.Inch != "" {
				m.is(`<br>`)
			}
			m.is(`<span>`)
			m.text(v5.Inch)
			m.is(`</span></td><td data-label="Stitches">`)
			m.number(v5.Stitches)
			m.is(`</td><td data-label="Stops">`)
			m.number(v5.ColourStops)
			m.is(`</td><td data-label="Threads">`)
			if v5.Threads != 0 {
				m.number(v5.Threads)
			} else {
				m.is(`not told`)
			}
			m.is(`</td><td data-label="Time, about">`)
			m.text(v5.Time)
			m.is(`</td><td data-label="Smallest usual hoop">`)
			m.text(v5.Hoop)
			m.is(`</td>`)
			if !(v.Buyer) {
				m.is(`<td data-label="Made">`)
				m.text(v5.Made)
				m.is(`</td>`)
			}
			for i6 := range v5.Cells {
				v6 := &v5.Cells[i6]
				m.is(`<td class="`)
				m.text(v6.Class)
				m.is(`" title="`)
				m.text(v6.Title)
				m.is(`" data-label="`)
				m.text(v6.Format)
				m.is(`">`)
				m.text(v6.Word)
				m.is(`</td>`)
			}
			m.is(`</tr>`)
		}
		m.is(`
</tbody></table></div>
`)
		if !(v.Buyer) {
			for i7 := range v3.Sizes {
				v7 := &v3.Sizes[i7]
				for i8 := range v7.Differ {
					v8 := &v7.Differ[i8]
					m.is(`
<figure><img src="`)
					m.url(string(v8.Picture))
					m.is(`" alt=""><figcaption><b>`)
					m.text(v8.Name)
					m.is(`</b>: `)
					m.text(v8.Words)
					m.is(`. Red dots: needle points that only this file has. Blue dots: where the other files of its size sew and this one does not.</figcaption></figure>
`)
				}
			}
		}
		m.is(`
`)
	}
	m.is(`
`)
	if v.Buyer {
		m.is(`<p>Sizes are those of the stitches. Hoops are the smallest usual sewing field; look in your machine's manual which it takes. Times are estimates`)
		if v.Speed != "" {
			m.is(` at `)
			m.text(v.Speed)
			m.is(` stitches a minute`)
		}
		m.is(`, with hand work.</p>`)
	}
	m.is(`
</body>
</html>
`)
}
