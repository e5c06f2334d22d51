// Code generated from page/page.html by go generate; DO NOT EDIT.

//go:build !pagestubs

package render

func (m markup) pageFinding(v *pageFinding) {
	m.is(`<li class="finding" id="`)
	m.text(v.ID)
	m.is(`-f`)
	m.text(v.Number)
	m.is(`"><span class="badge `)
	m.text(v.Severity)
	m.is(`">`)
	m.text(v.Number)
	m.is(`</span><div><p><b class="`)
	m.text(v.Severity)
	m.is(`">`)
	m.text(v.Severity)
	m.is(`</b> `)
	if v.Stop != 0 {
		m.is(`<a href="#`)
		m.urlPart(v.ID)
		m.is(`-s`)
		m.number(v.Stop)
		m.is(`">stop `)
		m.number(v.Stop)
		m.is(`</a>, `)
	}
	m.is(`<span class="quiet">`)
	m.text(v.Rule)
	if !(v.Marked) {
		m.is(`, no one place`)
	}
	m.is(`</span></p><p>`)
	m.text(v.Message)
	m.is(`</p><p>`)
	m.text(v.Advice)
	m.is(`</p></div></li>`)
}

func (m markup) pageSwatch(v string) {
	m.is(`<svg class="swatch" viewBox="0 0 24 16" preserveAspectRatio="none" aria-hidden="true" focusable="false"><rect width="24" height="16" fill="`)
	m.text(v)
	m.is(`"/></svg>`)
}

func (m markup) pageDesign(v *pageDesign) {
	m.is(`
`)
	m.is(`
`)
	if len(v.Store) > 0 {
		m.is(`<svg class="store" aria-hidden="true" focusable="false"><defs>
`)
		for i5 := range v.Store {
			v5 := &v.Store[i5]
			m.is(`<image id="`)
			m.text(v.ID)
			m.is(`-i`)
			m.number(v5.Stop)
			m.is(`" x="`)
			m.text(v5.X)
			m.is(`" y="`)
			m.text(v5.Y)
			m.is(`" width="`)
			m.text(v5.W)
			m.is(`" height="`)
			m.text(v5.H)
			m.is(`" `)
			m.is(string(v5.Href))
			m.is(`/>
<path id="`)
			m.text(v.ID)
			m.is(`-p`)
			m.number(v5.Stop)
			m.is(`" d="`)
			m.text(v5.Path)
			m.is(`"/>
`)
		}
		m.is(`</defs></svg>`)
	}
	m.is(`
<section class="head">
<div class="about">
<h1><bdi>`)
	m.text(v.Name)
	m.is(`</bdi></h1>
`)
	if v.File != "" {
		m.is(`<p class="quiet">from <bdi class="file">`)
		m.text(v.File)
		m.is(`</bdi>`)
		if v.Files != "" {
			m.is(`; the same design in <bdi class="file">`)
			m.text(v.Files)
			m.is(`</bdi>`)
		}
		m.is(`</p>`)
	}
	m.is(`
`)
	if len(v.Stops) > 0 {
		m.is(`<p class="jump"><a href="#`)
		m.urlPart(v.ID)
		m.is(`-stops">Go to the stops</a></p>`)
	}
	m.is(`
<dl>`)
	for i6 := range v.Figures {
		v6 := &v.Figures[i6]
		m.is(`<dt>`)
		m.text(v6.Name)
		m.is(`</dt><dd>`)
		m.text(v6.Value)
		m.is(`</dd>`)
	}
	m.is(`</dl>
<div class="caution"><p><b>Your machine's manual comes first.</b> Keep hands clear while the needle moves. Stop the machine and take the hoop off it before scissors come near; leave the cloth in the hoop. Dense stitching breaks needles: stop when the machine labours, and wear glasses.</p></div>
</div>
`)
	if len(v.Store) > 0 {
		m.is(`
<div class="stage">
<button type="button" class="enlarge" data-name="`)
		m.text(v.Name)
		m.is(`" aria-label="Enlarge the picture of the whole design">
<svg viewBox="`)
		m.text(v.View.String())
		m.is(`" role="img" aria-label="The design as it will look sewn">
`)
		for i7 := range v.Store {
			v7 := &v.Store[i7]
			m.is(`<use class="layer" data-stop="`)
			m.number(v7.Stop)
			m.is(`" href="#`)
			m.urlPart(v.ID)
			m.is(`-i`)
			m.number(v7.Stop)
			m.is(`"/>
`)
		}
		m.is(`<g class="marks">`)
		for i8 := range v.Marks {
			v8 := &v.Marks[i8]
			m.is(`<circle class="place" cx="`)
			m.number(v8.X)
			m.is(`" cy="`)
			m.number(v8.Y)
			m.is(`" r="`)
			m.number(v8.Ring)
			m.is(`"/><line x1="`)
			m.number(v8.EdgeX)
			m.is(`" y1="`)
			m.number(v8.EdgeY)
			m.is(`" x2="`)
			m.number(v8.DX)
			m.is(`" y2="`)
			m.number(v8.DY)
			m.is(`"/>`)
		}
		for i9 := range v.Marks {
			v9 := &v.Marks[i9]
			if v9.Grave == "fault" {
				m.is(`<rect class="fault" x="`)
				m.number(v9.Left)
				m.is(`" y="`)
				m.number(v9.Top)
				m.is(`" width="`)
				m.number(v9.Wide)
				m.is(`" height="`)
				m.number(v9.Wide)
				m.is(`"/>`)
			} else {
				m.is(`<circle class="`)
				m.text(v9.Grave)
				m.is(`" cx="`)
				m.number(v9.DX)
				m.is(`" cy="`)
				m.number(v9.DY)
				m.is(`" r="`)
				m.number(v9.R)
				m.is(`"/>`)
			}
			m.is(`<text x="`)
			m.number(v9.DX)
			m.is(`" y="`)
			m.number(v9.DY)
			m.is(`" font-size="`)
			m.number(v9.TextSize)
			m.is(`">`)
			m.text(v9.Number)
			m.is(`</text>`)
		}
		m.is(`</g>
</svg></button>
<div class="scrub needs-script">
`)
		if len(v.Store) > 1 {
			m.is(`<label for="`)
			m.text(v.ID)
			m.is(`-slider">Sewn up to stop</label>
<div class="row"><button type="button" class="step" data-by="-1" aria-label="One stop back">◀</button>
<input type="range" id="`)
			m.text(v.ID)
			m.is(`-slider" min="1" max="`)
			m.number(len(v.Store))
			m.is(`" value="`)
			m.number(len(v.Store))
			m.is(`" autocomplete="off">
<button type="button" class="step" data-by="1" aria-label="One stop on">▶</button></div>
<p class="upto" aria-live="polite">The whole design. Slide to see it grow.</p>`)
		}
		m.is(`
`)
		if v.GroundWords != "" {
			m.is(`<p class="quiet">`)
			m.text(v.GroundWords)
			m.is(`</p>`)
		}
		m.is(`
`)
		if len(v.Marks) > 0 {
			m.is(`<label class="tick-line"><input type="checkbox" class="show-marks" checked autocomplete="off"> numbers of the findings</label>`)
		}
		m.is(`
</div>
</div>
`)
	}
	m.is(`
</section>
<section class="findings">
<h2>What the checks found</h2>
`)
	if len(v.Grave) > 0 {
		m.is(`<ol>`)
		for i10 := range v.Grave {
			v10 := &v.Grave[i10]
			m.pageFinding(v10)
		}
		m.is(`</ol>`)
	}
	m.is(`
`)
	if len(v.Notes) > 0 {
		m.is(`<ol>`)
		for i11 := range v.Notes {
			v11 := &v.Notes[i11]
			m.pageFinding(v11)
		}
		m.is(`</ol>`)
	}
	m.is(`
`)
	if v.FindingsLeft != 0 {
		m.is(`<p>and `)
		m.number(v.FindingsLeft)
		m.is(` more</p>`)
	}
	m.is(`
`)
	if !(len(v.Stops) > 0) {
		m.is(`<p>There are no stitches in this file: nothing to sew, and nothing to check.</p>`)
	} else {
		if !(len(v.Grave) > 0 || len(v.Notes) > 0) {
			m.is(`<p>Nothing. A test piece on the same cloth is still worth its thread.</p>`)
		}
	}
	m.is(`
`)
	if len(v.Warnings) > 0 {
		m.is(`<details><summary>Oddities met while reading the file</summary><ul>`)
		for _, v12 := range v.Warnings {
			m.is(`<li>`)
			m.text(v12)
			m.is(`</li>`)
		}
		m.is(`</ul></details>`)
	}
	m.is(`
</section>
`)
	if len(v.Cloths) > 0 || len(v.Threads) > 0 || v.NoColours {
		m.is(`
<section class="gather">
`)
		if len(v.Cloths) > 0 {
			m.is(`<div><h2>What to cut</h2>
<table class="stack"><thead><tr><th>Cloth</th><th>At least</th><th>For stop</th></tr></thead><tbody>
`)
			for i13 := range v.Cloths {
				v13 := &v.Cloths[i13]
				m.is(`<tr><td>`)
				m.text(v13.Kind)
				m.is(`</td><td data-label="At least">`)
				m.text(v13.Size)
				m.is(`</td><td data-label="For stop">`)
				if v13.Stop != 0 {
					m.is(`<a href="#`)
					m.urlPart(v.ID)
					m.is(`-s`)
					m.number(v13.Stop)
					m.is(`">`)
					m.number(v13.Stop)
					m.is(`</a>`)
				}
				m.is(`</td></tr>`)
			}
			m.is(`
</tbody></table></div>`)
		}
		m.is(`
`)
		if len(v.Threads) > 0 || v.NoColours {
			m.is(`<div><h2>Threads to set out</h2>
`)
			if len(v.Threads) > 0 {
				m.is(`<table class="stack"><thead><tr><th>Thread</th><th>Length</th><th>Stops</th></tr></thead><tbody>
`)
				for i14 := range v.Threads {
					v14 := &v.Threads[i14]
					m.is(`<tr><td>`)
					if v14.Colour != "" {
						m.pageSwatch(v14.Colour)
						m.is(` `)
					}
					m.text(v14.Name)
					m.is(`</td><td data-label="Length">`)
					m.text(v14.Length)
					m.is(`</td><td data-label="Stops">`)
					m.text(v14.Stops)
					m.is(`</td></tr>`)
				}
				m.is(`
</tbody></table>`)
			}
			m.is(`
`)
			if v.NoColours {
				m.is(`<p>The file gives `)
				if len(v.Threads) > 0 {
					m.is(`some stops no colour`)
				} else {
					m.is(`no colours`)
				}
				m.is(`. Choose your own; the pictures only tell the stops apart.</p>`)
			}
			m.is(`
<p class="quiet">`)
			if v.AnyThread {
				m.is(`Any thread: wash-away or one like the cloth will do; the colours there only make the machine wait. `)
			}
			m.is(`Colour names are the nearest usual ones; look at your thread, not at the screen.</p></div>`)
		}
		m.is(`
</section>
`)
	}
	m.is(`
`)
	if len(v.Stops) > 0 {
		m.is(`
<section class="stops" id="`)
		m.text(v.ID)
		m.is(`-stops">
<div class="stops-head"><h2>Stop by stop</h2>
<p class="progress needs-script"><span class="done"></span> <a class="next" href="#`)
		m.urlPart(v.ID)
		m.is(`"></a></p>
<p class="needs-script"><button type="button" class="go-one">One stop at a time</button></p></div>
<ol>
`)
		for i15 := range v.Stops {
			v15 := &v.Stops[i15]
			m.is(`<li id="`)
			m.text(v.ID)
			m.is(`-s`)
			m.number(v15.Number)
			m.is(`" class="stop" data-stop="`)
			m.number(v15.Number)
			m.is(`" data-name="`)
			m.text(v15.Role)
			m.is(`, `)
			m.text(v15.Thread)
			m.is(`" data-word="`)
			if v15.Word != "" {
				m.text(v15.Word)
			} else {
				m.text(v15.Role)
			}
			m.is(`" data-first="`)
			m.text(v15.First)
			m.is(`" data-then="`)
			m.text(v15.Then)
			m.is(`" data-next="`)
			m.text(v15.Next)
			m.is(`"`)
			if v15.End {
				m.is(` data-end`)
			}
			if v15.AnyThread {
				m.is(` data-any`)
			}
			m.is(`>
<p class="number">`)
			m.number(v15.Number)
			m.is(`</p>
`)
			if v15.Picture {
				m.is(`<button type="button" class="enlarge" data-name="Stop `)
				m.number(v15.Number)
				m.is(`: `)
				m.text(v15.Role)
				m.is(`" aria-label="Enlarge the picture of stop `)
				m.number(v15.Number)
				m.is(`, `)
				m.text(v15.Role)
				m.is(`">
<svg viewBox="`)
				m.text(v.View.String())
				m.is(`" role="img" aria-label="Stop `)
				m.number(v15.Number)
				m.is(`: where it sews"><image x="`)
				m.text(v15.BaseX)
				m.is(`" y="`)
				m.text(v15.BaseX)
				m.is(`" width="`)
				m.text(v15.BaseW)
				m.is(`" height="`)
				m.text(v15.BaseW)
				m.is(`" `)
				m.is(string(v15.Base))
				m.is(`/><g`)
				if v15.Under {
					m.is(` transform="scale(-1 1)"`)
				}
				m.is(`><use class="line casing" stroke="`)
				m.text(v15.Casing)
				m.is(`" href="#`)
				m.urlPart(v.ID)
				m.is(`-p`)
				m.number(v15.Number)
				m.is(`"/><use class="line" stroke="`)
				m.text(v15.Colour)
				m.is(`" href="#`)
				m.urlPart(v.ID)
				m.is(`-p`)
				m.number(v15.Number)
				m.is(`"/><use href="#`)
				m.urlPart(v.ID)
				m.is(`-i`)
				m.number(v15.Number)
				m.is(`"/></g></svg>`)
				if v15.Under {
					m.is(`<span class="under">underside</span>`)
				}
				m.is(`</button>`)
			} else {
				m.is(`<span class="enlarge"></span>`)
			}
			m.is(`
<div class="what">
`)
			if len(v15.Before) > 0 {
				m.is(`<ul class="hands before">`)
				for i16 := range v15.Before {
					v16 := &v15.Before[i16]
					m.is(`<li`)
					if v16.Hoop {
						m.is(` class="hoop"`)
					}
					m.is(`>`)
					m.text(v16.Text)
					m.is(`</li>`)
				}
				m.is(`</ul>`)
			}
			m.is(`
<div class="told"><h3>`)
			m.text(v15.Role)
			m.is(`</h3>
<p class="thread">`)
			m.pageSwatch(v15.Colour)
			m.is(` `)
			m.text(v15.Thread)
			if v15.AnyThread {
				m.is(`; any thread will do`)
			}
			m.is(`</p>
`)
			if len(v15.Parts) > 0 {
				m.is(`<p>`)
				for i17, v17 := range v15.Parts {
					if i17 != 0 {
						m.is(`; `)
					}
					m.text(v17)
				}
				m.is(`</p>`)
			}
			m.is(`
`)
			if v15.Note != "" {
				m.is(`<p><b>`)
				m.text(v15.Note)
				m.is(`</b></p>`)
			}
			m.is(`
`)
			if v15.InHoop != "" {
				m.is(`<p class="quiet">In the hoop: `)
				m.text(v15.InHoop)
				m.is(`</p>`)
			}
			m.is(`
<p class="quiet">`)
			m.text(v15.Figures)
			if len(v15.Found) > 0 {
				m.is(`; <span class="`)
				m.text(v15.Grave)
				m.is(`">see `)
				for i18, v18 := range v15.Found {
					if i18 != 0 {
						m.is(`, `)
					}
					m.is(`<a href="#`)
					m.urlPart(v.ID)
					m.is(`-f`)
					m.urlPart(v18)
					m.is(`">`)
					m.text(v18)
					m.is(`</a>`)
				}
				m.is(` above</span>`)
			}
			m.is(`</p></div>
`)
			if len(v15.After) > 0 {
				m.is(`<ul class="hands after">`)
				for i19 := range v15.After {
					v19 := &v15.After[i19]
					m.is(`<li`)
					if v19.Hoop {
						m.is(` class="hoop"`)
					}
					m.is(`>`)
					m.text(v19.Text)
					m.is(`</li>`)
				}
				m.is(`</ul>`)
			}
			m.is(`
</div>
<label class="tick"><input type="checkbox" autocomplete="off" aria-label="Stop `)
			m.number(v15.Number)
			m.is(` is done"></label>
</li>
`)
		}
		m.is(`</ol>
`)
		if v.StopsLeft != 0 {
			m.is(`<p>and `)
			m.number(v.StopsLeft)
			m.is(` more stops</p>`)
		}
		m.is(`
<p class="needs-script"><button type="button" class="clear">Clear all ticks</button> <button type="button" class="undo" hidden>Undo: put the ticks back</button> <span class="cleared" role="status"></span></p>
</section>
`)
	}
	m.is(`
`)
	if len(v.Pieces) > 0 {
		m.is(`
<section class="pieces"><h2>Applique pieces and their cover</h2>
<div class="wide" role="region" aria-label="Applique pieces" tabindex="0"><table class="stack"><thead><tr><th>Piece</th><th>Stops</th><th>Cut at least</th><th>Satin reaches past the tack-down</th><th>Edge left bare</th></tr></thead><tbody>
`)
		for i20 := range v.Pieces {
			v20 := &v.Pieces[i20]
			m.is(`<tr><td>`)
			m.number(v20.Number)
			if v20.Note != "" {
				m.is(`: <b>`)
				m.text(v20.Note)
				m.is(`</b>`)
			}
			m.is(`</td><td data-label="Stops">`)
			m.text(v20.Stops)
			m.is(`</td><td data-label="Cut at least">`)
			m.text(v20.Cut)
			m.is(`</td><td data-label="Reach past tack-down">`)
			m.text(v20.Cover)
			m.is(`</td><td data-label="Edge left bare">`)
			if v20.Bare {
				m.is(`<b>`)
				m.text(v20.Gap)
				m.is(`</b>`)
			} else {
				m.text(v20.Gap)
			}
			m.is(`</td></tr>`)
		}
		m.is(`
</tbody></table></div></section>
`)
	}
	m.is(`
`)
	if len(v.Views) > 0 {
		m.is(`
<section class="views"><h2>More pictures</h2><div class="grid">
`)
		for i21 := range v.Views {
			v21 := &v.Views[i21]
			m.is(`<figure class="`)
			m.text(v21.Kind)
			m.is(`"><button type="button" class="enlarge" data-name="`)
			m.text(v21.Name)
			m.is(`" aria-label="Enlarge the picture: `)
			m.text(v21.Name)
			m.is(`"><svg viewBox="0 0 `)
			m.number(v21.W)
			m.is(` `)
			m.number(v21.H)
			m.is(`" role="img" aria-label="`)
			m.text(v21.Name)
			m.is(`"><image width="`)
			m.number(v21.W)
			m.is(`" height="`)
			m.number(v21.H)
			m.is(`" `)
			m.is(string(v21.Href))
			m.is(`/></svg></button><figcaption><b>`)
			m.text(v21.Name)
			m.is(`</b>: `)
			m.text(v21.Text)
			m.is(`</figcaption></figure>`)
		}
		m.is(`
</div></section>
`)
	}
	m.is(`
`)
	if len(v.Resize) > 0 || v.ResizeLater {
		m.is(`<section class="resizing"`)
		if v.ResizeLater {
			m.is(` hidden`)
		}
		m.is(`><h2>Resizing on the machine</h2><ul>`)
		for _, v22 := range v.Resize {
			m.is(`<li>`)
			m.text(v22)
			m.is(`</li>`)
		}
		m.is(`</ul></section>`)
	}
	m.is(`
`)
	if len(v.Columns) > 0 {
		m.is(`
<section class="columns"><details><summary>Satin columns</summary>
<div class="wide" role="region" aria-label="Satin columns" tabindex="0"><table class="stack"><thead><tr><th>Stop</th><th>Length</th><th>Width</th><th>Pitch</th><th>Cloth under thread</th><th>Underlay</th></tr></thead><tbody>
`)
		for i23 := range v.Columns {
			v23 := &v.Columns[i23]
			m.is(`<tr><td>`)
			m.number(v23.Stop)
			m.is(`</td><td data-label="Length">`)
			m.text(v23.Length)
			m.is(`</td><td data-label="Width">`)
			m.text(v23.Width)
			m.is(`</td><td data-label="Pitch">`)
			m.text(v23.Pitch)
			m.is(`</td><td data-label="Under thread">`)
			m.text(v23.Coverage)
			m.is(`</td><td data-label="Underlay">`)
			m.text(v23.Underlay)
			m.is(`</td></tr>`)
		}
		m.is(`
</tbody></table></div>`)
		if v.ColumnsLeft != 0 {
			m.is(`<p>and `)
			m.number(v.ColumnsLeft)
			m.is(` more</p>`)
		}
		m.is(`</details></section>
`)
	}
	m.is(`
<footer><p>Roles, times and lengths are worked out from the stitches: they are advice. Times and thread are estimates.</p></footer>
`)
}

func (m markup) page(v *pageModel) {
	m.is(`<!doctype html>
<html lang="en-GB">
<head>
<meta charset="utf-8">
`)
	if v.Mark != "" {
		m.is(string(v.Mark))
		m.is(`
`)
	}
	m.is(`<meta http-equiv="Content-Security-Policy" content="`)
	m.text(v.Policy)
	m.is(`">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta name="referrer" content="no-referrer">
<meta name="color-scheme" content="light dark">
<title>`)
	m.text(v.Title)
	m.is(`</title>
<style>`)
	m.is(string(v.CSS))
	m.is(`</style>
</head>
<body>
`)
	if len(v.Index) > 0 {
		m.is(`
<header class="pack">
<h1><bdi>`)
		m.text(v.Title)
		m.is(`</bdi></h1>
<h2>What is in the pack</h2>
<table class="index stack">
<thead><tr><th>Design</th><th>Size</th><th>Hoop</th><th>Stitches</th><th>Time</th><th>Found</th><th>Files</th></tr></thead>
<tbody>
`)
		for i1 := range v.Index {
			v1 := &v.Index[i1]
			m.is(`<tr>
<td>`)
			if v1.ID != "" {
				m.is(`<a href="#`)
				m.urlPart(v1.ID)
				m.is(`"><bdi>`)
				m.text(v1.Name)
				m.is(`</bdi></a>`)
			} else {
				m.is(`<bdi>`)
				m.text(v1.Name)
				m.is(`</bdi>`)
			}
			m.is(`</td>
<td data-label="Size">`)
			m.text(v1.Size)
			m.is(`</td><td data-label="Hoop">`)
			if v1.Fits {
				m.is(`<b>`)
				m.text(v1.Hoop)
				m.is(`</b>`)
			} else {
				m.text(v1.Hoop)
			}
			m.is(`</td><td data-label="Stitches">`)
			m.text(v1.Stitches)
			m.is(`</td><td data-label="Time">`)
			m.text(v1.Time)
			m.is(`</td><td data-label="Found">`)
			if v1.Worst != "" {
				m.is(`<b class="found `)
				m.text(v1.Worst)
				m.is(`">`)
				m.text(v1.Found)
				m.is(`</b>`)
			} else {
				m.text(v1.Found)
			}
			m.is(`</td>
<td data-label="Files">`)
			for _, v2 := range v1.Files {
				m.is(`<bdi class="file">`)
				m.text(v2)
				m.is(`</bdi>`)
			}
			m.is(`</td>
</tr>`)
		}
		m.is(`
</tbody></table>
<p>Take the file in the format your machine's manual names. Every size has its own card below.</p>
`)
		if v.Left != 0 {
			m.is(`<p>`)
			m.number(v.Left)
			m.is(` more designs have no card on this page; make one of each file by itself.</p>`)
		}
		m.is(`
</header>
`)
	}
	m.is(`
`)
	if len(v.Unread) > 0 {
		m.is(`<section class="caution unread"><h2>What could not be read</h2>
<p>This is not everything that was to be here:</p>
<ul>`)
		for _, v3 := range v.Unread {
			m.is(`<li><bdi class="file">`)
			m.text(v3)
			m.is(`</bdi></li>`)
		}
		m.is(`</ul>
`)
		if v.UnreadLeft != 0 {
			m.is(`<p>and `)
			m.number(v.UnreadLeft)
			m.is(` more</p>`)
		}
		m.is(`
</section>`)
	}
	m.is(`
`)
	m.is(`
`)
	if len(v.Designs) == 0 {
		m.is(`<main><p>There is no design in this file.</p></main>
`)
	}
	for _, v4 := range v.Designs {
		m.is(`
`)
		if len(v.Index) > 0 {
			m.is(`<details class="design on-`)
			m.text(v4.Ground)
			m.is(`" id="`)
			m.text(v4.ID)
			m.is(`" data-key="`)
			m.text(v4.Key)
			m.is(`"`)
			if v4.Partly != "" {
				m.is(` data-partly="`)
				m.text(v4.Partly)
				m.is(`"`)
			}
			if v4.Open {
				m.is(` open`)
			}
			m.is(`>
<summary><bdi>`)
			m.text(v4.Name)
			m.is(`</bdi> <span>`)
			m.text(v4.Figures[0].Value)
			m.is(`</span>`)
			if v4.Worst != "" {
				m.is(` <b class="found `)
				m.text(v4.Worst)
				m.is(`">`)
				m.text(v4.Found)
				m.is(`</b>`)
			}
			m.is(`</summary>`)
		} else {
			m.is(`<main class="design on-`)
			m.text(v4.Ground)
			m.is(`" id="`)
			m.text(v4.ID)
			m.is(`" data-key="`)
			m.text(v4.Key)
			m.is(`"`)
			if v4.Partly != "" {
				m.is(` data-partly="`)
				m.text(v4.Partly)
				m.is(`"`)
			}
			m.is(`>`)
		}
		m.is(`
<div class="frame">
<div class="running" aria-hidden="true"><div><bdi>`)
		m.text(v4.Name)
		m.is(`</bdi> <span>`)
		m.text(v4.Figures[0].Value)
		if v4.File != "" {
			m.is(`, <bdi>`)
			m.text(v4.File)
			m.is(`</bdi>`)
		}
		m.is(`</span></div></div>
<div class="content"><div>
`)
		m.pageDesign(v4)
		m.is(`
</div></div></div>
`)
		if len(v.Index) > 0 {
			m.is(`</details>`)
		} else {
			m.is(`</main>`)
		}
		m.is(`
`)
	}
	m.is(`
<dialog id="large" aria-labelledby="large-name">
<div class="bar"><p id="large-name"></p><button type="button" id="closer" aria-pressed="false">Closer</button><button type="button" id="close">Close</button></div>
<div id="large-picture" tabindex="0" role="region" aria-label="Enlarged picture"></div>
</dialog>
<dialog id="one" aria-labelledby="one-count">
<div class="bar"><p id="one-count"></p><button type="button" id="one-close">All stops</button></div>
<div id="one-stop">
<p class="one-partly" hidden></p>
<div class="one-thread"><p class="one-number"></p><span class="one-swatch"></span><p class="one-word"></p></div>
<p class="one-role"></p>
<p class="one-first" hidden></p>
<p class="one-note" hidden></p>
<div class="one-picture"></div>
<p class="one-then" hidden></p>
<p class="one-next"></p>
</div>
<p id="one-say" class="unseen" role="status" aria-live="polite"></p>
<div class="one-buttons"><button type="button" id="one-back" aria-label="Back one stop">◀</button><button type="button" id="one-done">Done</button><button type="button" id="one-on" aria-label="On one stop, without a tick">▶</button></div>
</dialog>
<script>`)
	m.is(string(v.JS))
	m.is(`</script>
</body>
</html>
`)
	m.is(`
`)
	m.is(`
`)
	m.is(`
`)
}
