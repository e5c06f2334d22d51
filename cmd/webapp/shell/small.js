const $ = (id) => document.getElementById(id);

function say(text) {
  $("said").textContent = text || "";
  $("said").hidden = !text;
}

function isSettings(name) { return /\.(toml|csv)$/i.test(name) && !/\.notes\.toml$/i.test(name); }

function item(text) {
  const li = document.createElement("li");
  li.textContent = text;
  return li;
}

function cell(text, kind) {
  const td = document.createElement("td");
  td.textContent = text;
  if (kind) td.className = kind;
  return td;
}

function count(n, one, many) { return n === 1 ? "1 " + one : n + " " + many; }

function row(d) {
  const tr = document.createElement("tr");
  tr.dataset.path = d.path;
  const td = document.createElement("td"), b = document.createElement("button");
  b.type = "button";
  b.textContent = d.path;
  b.addEventListener("click", () => guard(openDesign(d.path, true)));
  td.append(b);
  const found = [];
  if (d.damage) found.push("damaged");
  if (d.faults) found.push(count(d.faults, "fault", "faults"));
  if (d.warnings) found.push(count(d.warnings, "warning", "warnings"));
  tr.append(td, cell(d.width_mm.toFixed(1) + " x " + d.height_mm.toFixed(1) + " mm", "size"), cell(d.hoop),
    cell(String(d.stitches), "count"), cell(d.time),
    cell(found.join(", ") || "nothing grave", d.faults || d.damage ? "fault" : d.warnings ? "warning" : ""));
  return tr;
}

function stem(path) { return path.replace(/^.*[\\/]/, "").replace(/\.[^.]*$/, "") || "design"; }

function save(bytes, name, type) {
  const a = document.createElement("a"), url = URL.createObjectURL(new Blob([bytes], { type }));
  a.href = url;
  a.download = name;
  a.click();
  setTimeout(() => URL.revokeObjectURL(url), 60000);
}

// guard tells of what went wrong. If the engine ended over it, all is read again and
// nothing opened.
function guard(promise) {
  promise.catch(async (problem) => {
    if (problem.stopped || problem.away) return;
    $("work").hidden = true;
    if (problem.ended && given.size) await revive("", true);
    say(problem.message);
  }).catch((problem) => say(problem.message));
}
