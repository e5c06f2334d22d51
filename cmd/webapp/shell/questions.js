function finding(f) {
  const li = document.createElement("li");
  li.className = f.severity;
  li.textContent = (f.stop ? "stop " + f.stop + ": " : "") + f.message;
  if (f.advice) {
    const advice = document.createElement("span");
    advice.className = "advice";
    advice.textContent = f.advice;
    li.append(advice);
  }
  return li;
}

async function compare() {
  const m = await ask("match");
  const out = [];
  for (const d of m.designs) {
    const h = document.createElement("h3");
    h.textContent = d.name;
    const ul = document.createElement("ul");
    for (const z of d.sizes) {
      const files = z.files.map((f) => f.format).join(", ");
      ul.append(item(z.width_mm.toFixed(0) + " x " + z.height_mm.toFixed(0) + " mm: " + z.verdict + "; " + count(z.files.length, "file", "files") + " (" + files + ")"));
    }
    for (const f of d.findings) ul.append(finding(f));
    out.push(h, ul);
  }
  $("matching").replaceChildren(...out);
  $("compared").hidden = false;
  $("compared-title").scrollIntoView();
}

async function whatif(event) {
  event.preventDefault();
  const e = await ask("whatif", { path: open, percent: +$("percent").value });
  const p = document.createElement("p"), ul = document.createElement("ul");
  p.textContent = "At " + (100 * e.scale).toFixed(0) + " %: " + e.width_mm.toFixed(1) + " x " + e.height_mm.toFixed(1) + " mm, " +
    count(e.stitches, "stitch", "stitches") + " kept; digitised anew it would have about " + e.stitches_anew + ".";
  for (const c of e.changes) {
    const li = finding(c.after || c.before);
    const word = document.createElement("strong");
    word.textContent = c.change + ": ";
    li.prepend(word);
    ul.append(li);
  }
  if (!e.changes.length) ul.append(item("No check changes its mind."));
  $("whatif").replaceChildren(p, ul);
}
