"use strict";
(() => {
const $ = (id) => document.getElementById(id);
const hoops = [[100, 100], [110, 110], [130, 180], [150, 240], [160, 260], [200, 200], [200, 300], [230, 300], [200, 360]];

// The engine works beside the page, so that the page stays at hand.
const packed = sevenBits($("engine-text").textContent);
let worker, waiting = new Map(), last = 0;

// The engine stands in the page as characters of seven bits each.
function sevenBits(text) {
  const out = new Uint8Array(Math.floor(text.length * 7 / 8));
  let held = 0, bits = 0, n = 0;
  for (let i = 0; i < text.length; i++) {
    let v = text.charCodeAt(i);
    if (v > 127) v = v === 0xc0 ? 0 : v === 0xc1 ? 13 : 60;
    held = (held << 7 | v) & 0x7fff;
    bits += 7;
    if (bits >= 8) {
      bits -= 8;
      out[n++] = held >> bits & 255;
    }
  }
  return out;
}

function wake() {
  const url = URL.createObjectURL(new Blob([$("worker-text").textContent], { type: "text/javascript" }));
  worker = new Worker(url);
  URL.revokeObjectURL(url);
  worker.onmessage = (event) => {
    const m = event.data;
    const done = waiting.get(m.id);
    waiting.delete(m.id);
    if (!done) return;
    if (m.error) done.no(new Error(m.error));
    else done.yes(m.json !== undefined ? JSON.parse(m.json) : m.bytes);
  };
  worker.onerror = (event) => {
    event.preventDefault();
    for (const done of waiting.values()) done.no(new Error(event.message || "the worker ended"));
    waiting.clear();
  };
  worker.postMessage({ packed });
}

function ask(question, args, files) {
  return new Promise((yes, no) => {
    const id = ++last;
    waiting.set(id, { yes, no });
    worker.postMessage({ id, question, args, files });
  });
}

// What a person gave, kept so that it can be read again: for each name that was given,
// of a file or a folder, the files.
let given = new Map();
let fresh = new Set();
let list = { designs: [], unreadable: [] }, open = "", pageText = null, pageName = "";

function say(text) {
  $("said").textContent = text || "";
  $("said").hidden = !text;
}

function isSettings(name) { return /\.(toml|csv)$/i.test(name) && !/\.notes\.toml$/i.test(name); }

function topOf(name) { return name.split("/")[0]; }

// Files are read design by design, so that reading can be stopped between two, and one
// lot after another.
let queue = Promise.resolve(), stopped = false, slow = 0;
function read(files) {
  const lot = new Map();
  for (const f of files) {
    const top = topOf(f.name);
    if (!lot.has(top)) lot.set(top, []);
    lot.get(top).push(f);
  }
  const mine = queue.then(() => readNow(lot));
  queue = mine.catch(() => {});
  return mine;
}

async function readNow(lot) {
  if (!lot.size) return;
  const wrong = [], tops = [...lot.keys()], settle = (top) => isSettings(top) && lot.get(top)[0].name === top;
  let inHand = null, n = 0, designs = 0, again = false;
  stopped = false;
  say("");
  $("work").hidden = $("cancel").hidden = false;
  $("progress").max = tops.length;
  try {
    await ask("given", {}, [...lot.values()].flat());
    // Settings and threads come first: the designs are read under them.
    for (const top of [...tops.filter(settle), ...tops.filter((top) => !settle(top))]) {
      if (stopped) break;
      $("doing").textContent = "Reading " + top;
      $("progress").value = n++;
      if (settle(top)) {
        const was = trims();
        try { await ask("open", { path: top }); } catch (problem) { wrong.push(problem.message); }
        inForce(await ask("settings"));
        again ||= trims() !== was;
        continue;
      }
      if (given.has(top)) wrong.push(top + " was given before: what was given last stands.");
      inHand = top;
      await ask("open", { path: top });
      for (let step = { more: true }; step.more && !stopped;) {
        step = await ask("next");
        if (!step.path) continue;
        fresh.add(step.path);
        $("doing").textContent = "Read " + count(++designs, "design", "designs") + ", last " + step.path;
      }
      if (stopped) await ask("stop");
      given.set(top, lot.get(top));
      inHand = null;
    }
    if (stopped) wrong.push("Reading was stopped. What had been read is kept.");
    clearTimeout(slow);
    if (again && given.size) {
      const all = given;
      given = new Map();
      await ask("clear");
      return await readNow(all);
    }
    await show();
  } catch (problem) {
    if (!stopped || !inHand) throw problem;
    // The engine was ended within a design: a new one reads the files before it.
    const all = given;
    all.delete(inHand);
    given = new Map();
    await ask("read-settings", { name: "settings", value: settings.file });
    await readNow(all);
    if (!all.size) await show();
    wrong.push("Reading was stopped. " + inHand + " is left out.");
  } finally {
    clearTimeout(slow);
    $("work").hidden = true;
  }
  if (wrong.length) say(wrong.join(" "));
}

// How jumps are taken for trims is the one setting that files are read by.
function trims() { return (/^trim-jumps = .*$/m.exec(settings.file) || [""])[0].split("#")[0].trim(); }

async function show() {
  list = await ask("list");
  const came = list.designs.filter((d) => fresh.has(d.path));
  fresh.clear();
  for (const d of came) {
    const was = said.get(d.path);
    if (was) await ask("correct", { path: d.path, said: was });
  }
  if (came.length) list = await ask("list");
  const rows = $("rows");
  rows.replaceChildren();
  for (const d of list.designs) rows.append(row(d));
  $("lost").replaceChildren(...list.unreadable.map((u) => item(u.path + ": " + u.error)));
  $("found").hidden = !list.designs.length && !list.unreadable.length;
  $("compare").hidden = list.designs.length < 2;
  $("proof").hidden = $("buyer").hidden = !list.designs.length;
  // What came last is shown, of several the largest that fits the hoop.
  const best = (all) => [...all].sort((a, b) => b.fits - a.fits || b.width_mm * b.height_mm - a.width_mm * a.height_mm)[0]?.path;
  const still = list.designs.some((d) => d.path === open);
  const next = best(came) || (still ? open : best(list.designs));
  if (next) await openDesign(next);
  else $("shown").hidden = true;
}

// The frame is as tall as what it shows, so that there is one way to scroll. Where the
// page in it opens something over all, such as one stop at a time, the frame fills
// the window.
let watching = [];
$("page").addEventListener("load", () => {
  for (const w of watching) w.disconnect();
  const frame = $("page"), doc = frame.contentDocument;
  if (!doc || !doc.body) return;
  const fit = () => {
    frame.classList.toggle("whole", doc.querySelector("dialog[open]") !== null);
    if (!frame.classList.contains("whole") && !document.fullscreenElement) {
      frame.style.height = Math.ceil(doc.body.getBoundingClientRect().height) + 4 + "px";
    }
  };
  const size = new ResizeObserver(fit), dialogs = new MutationObserver(fit);
  size.observe(doc.body);
  for (const d of doc.querySelectorAll("dialog")) dialogs.observe(d, { attributes: true, attributeFilter: ["open"] });
  watching = [size, dialogs];
  fit();
});

// ofDesign shows or hides what is about one design: a proof is about all.
function ofDesign(is) {
  for (const e of [$("card-pdf"), $("paper").parentElement, $("card-png"), $("correct"), $("whatif-form"), $("whatif")]) e.hidden = !is;
}

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
  tr.append(td, cell(d.width_mm.toFixed(1) + " x " + d.height_mm.toFixed(1) + " mm"), cell(d.hoop),
    cell(count(d.stitches, "stitch", "stitches")), cell(d.time),
    cell(found.join(", ") || "nothing grave", d.faults || d.damage ? "fault" : d.warnings ? "warning" : ""));
  return tr;
}

// What a person said of a design is kept under a key of its stitches, on this device.
function keyOf(path) {
  const d = list.designs.find((d) => d.path === path);
  return d ? "stopcard-said-" + d.key : "";
}
const said = {
  get(path) { try { return JSON.parse(localStorage.getItem(keyOf(path))); } catch { return null; } },
  set(path, v) { try { if (v) localStorage.setItem(keyOf(path), JSON.stringify(v)); else localStorage.removeItem(keyOf(path)); } catch { /* a private window */ } },
};

function field(label, value, into) {
  const i = document.createElement("input");
  i.type = "text";
  i.maxLength = 200;
  i.value = value || "";
  i.setAttribute("aria-label", label);
  into.append(i);
  return i;
}

let fields = [], pieces = [];
async function fillCorrections(path) {
  const r = await ask("read", { path });
  $("obeyed").textContent = r.notes ? "Obeyed now: " + r.notes : "Nothing was said yet: all below is what the stitches tell.";
  $("title").value = r.notes ? r.title : "";
  fields = [];
  $("said-stops").replaceChildren(...r.stops.map((s) => {
    const tr = document.createElement("tr");
    const role = document.createElement("select");
    role.setAttribute("aria-label", "stop " + s.number + " is");
    role.append(new Option("as read", ""), ...r.roles.map((name) => new Option(name, name)));
    role.value = s.said.role;
    const n = cell("Stop " + s.number), read = cell(s.role + ": " + s.reason, "quiet"), is = document.createElement("td"), thread = document.createElement("td"), note = document.createElement("td");
    is.append(role);
    fields.push({ number: s.number, role, thread: field("thread of stop " + s.number, s.said.thread, thread), note: field("remark on stop " + s.number, s.said.note, note) });
    fields.at(-1).thread.placeholder = s.colour_name || "thread";
    fields.at(-1).note.placeholder = "remark";
    tr.append(n, read, is, thread, note);
    return tr;
  }));
  pieces = [];
  const set = $("said-pieces");
  set.hidden = !r.pieces.length;
  for (const p of [...set.querySelectorAll("p")]) p.remove();
  for (const p of r.pieces) {
    const row = document.createElement("p"), label = document.createElement("label"), box = document.createElement("input");
    box.type = "checkbox";
    box.checked = p.said.applique;
    label.append(box, " piece " + p.number + (p.stop ? " (line of stop " + p.stop + ")" : "") + " is cloth");
    row.append(label);
    const cloth = field("cloth of piece " + p.number, p.said.cloth, row);
    cloth.placeholder = "which cloth";
    pieces.push({ number: p.number, applique: box, cloth });
    set.append(row);
  }
}

function saying() {
  return { title: $("title").value.trim(),
    stops: fields.map((f) => ({ number: f.number, role: f.role.value, thread: f.thread.value.trim(), note: f.note.value.trim() })),
    pieces: pieces.map((p) => ({ number: p.number, applique: p.applique.checked, cloth: p.cloth.value.trim() })) };
}

async function correct(what) {
  const path = open;
  say("");
  await ask("correct", { path, said: what });
  said.set(path, what.title || what.stops.length || what.pieces.length ? what : null);
  await show();
}

async function openDesign(path, move) {
  $("work").hidden = false;
  $("cancel").hidden = true;
  $("progress").removeAttribute("value");
  $("doing").textContent = "Drawing " + path;
  try {
    const bytes = await ask("page", { path });
    open = path;
    pageText = bytes;
    pageName = stem(path);
    ofDesign(true);
    $("whatif").replaceChildren();
    $("shown-title").textContent = path;
    $("shown").hidden = false;
    $("page").srcdoc = new TextDecoder().decode(bytes);
    await fillCorrections(path);
    for (const tr of $("rows").children) tr.setAttribute("aria-current", tr.dataset.path === path ? "true" : "false");
    if (move) $("shown-title").focus();
  } finally {
    $("work").hidden = true;
  }
}

function guard(promise) {
  promise.catch((problem) => { $("work").hidden = true; say(problem.message); });
}

function stem(path) { return path.replace(/^.*[\\/]/, "").replace(/\.[^.]*$/, "") || "design"; }

function save(bytes, name, type) {
  const a = document.createElement("a"), url = URL.createObjectURL(new Blob([bytes], { type }));
  a.href = url;
  a.download = name;
  a.click();
  setTimeout(() => URL.revokeObjectURL(url), 60000);
}

// Files dropped: single ones, and folders with all that lies in them.
async function dropped(items) {
  const out = [], entries = [];
  for (const it of items) {
    const e = it.webkitGetAsEntry && it.webkitGetAsEntry();
    if (e) entries.push(e);
    else if (it.getAsFile()) { const file = it.getAsFile(); out.push({ name: file.name, file }); }
  }
  const walk = async (e, at) => {
    if (e.isFile) {
      const file = await new Promise((yes, no) => e.file(yes, no));
      out.push({ name: at + e.name, file });
      return;
    }
    const reader = e.createReader();
    for (;;) {
      const some = await new Promise((yes, no) => reader.readEntries(yes, no));
      if (!some.length) return;
      for (const inner of some.sort((a, b) => a.name < b.name ? -1 : 1)) await walk(inner, at + e.name + "/");
    }
  };
  for (const e of entries) await walk(e, "");
  return out;
}

// Settings live on this device, as the text of the settings file, where the browser
// lets them.
const store = {
  get() { try { return localStorage.getItem("stopcard-settings.toml") || ""; } catch { return ""; } },
  set(text) { try { localStorage.setItem("stopcard-settings.toml", text); } catch { /* a private window */ } },
};

let settings;
async function begin() {
  wake();
  const kept = store.get();
  inForce(await ask("settings"));
  if (kept) inForce(await ask("read-settings", { name: "the settings kept here", value: kept }));
}

// inForce shows the settings and keeps them.
function inForce(now) {
  settings = now;
  const hoop = $("hoop"), names = Object.keys(now.hoops).sort(), usual = hoops.map(([w, h]) => w + "x" + h);
  const own = now.hoop && !now.hoops[now.hoop] && !usual.includes(now.hoop);
  hoop.replaceChildren(new Option("not told", ""), ...names.map((name) => new Option(name + " (" + now.hoops[name] + ")", name)),
    ...usual.map((size) => new Option(size.replace("x", " x "), size)),
    ...(own ? [new Option(now.hoop, now.hoop)] : []), new Option("another size", "own size"));
  hoop.value = now.hoop;
  $("forget-hoop").hidden = !now.hoops[now.hoop];
  $("speed").value = now.speed;
  $("paper").value = now.paper;
  $("box").textContent = now.thread_box ? "Your settings name a thread box, " + now.thread_box + ": give that file here too."
    : now.threads ? "Your thread box has " + count(now.threads, "thread", "threads") + ": each stop gets the nearest." : "No threads of yours are told yet: colours go by their words.";
  $("no-threads").hidden = !now.threads && !now.thread_box;
  ownHoop();
  store.set(now.file);
}

function ownHoop() {
  for (const l of document.querySelectorAll(".own-hoop")) l.hidden = $("hoop").value !== "own size";
}

async function set(name, value) {
  say("");
  try {
    inForce(await ask("set", { name, value: String(value) }));
  } catch (problem) {
    inForce(settings);
    throw problem;
  }
  if (given.size && name !== "paper") await show();
}

async function keepHoop() {
  const size = $("hoop-width").value + "x" + $("hoop-height").value, name = $("hoop-name").value.trim();
  if (name) inForce(await ask("set", { name: "hoops " + name, value: size }));
  await set("hoop", name || size);
}

function finding(f) {
  const li = document.createElement("li");
  li.className = f.severity;
  li.textContent = (f.stop ? "stop " + f.stop + ": " : "") + f.message + (f.advice ? " " + f.advice : "");
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

$("choose").addEventListener("click", () => $("files").click());
$("choose-folder").addEventListener("click", () => $("folder").click());
for (const id of ["files", "folder"]) {
  $(id).addEventListener("change", (event) => {
    const files = [...event.target.files].map((file) => ({ name: file.webkitRelativePath || file.name, file }));
    event.target.value = "";
    guard(read(files));
  });
}
addEventListener("dragover", (event) => { event.preventDefault(); document.body.classList.add("over"); });
addEventListener("dragleave", (event) => { if (!event.relatedTarget) document.body.classList.remove("over"); });
addEventListener("drop", (event) => {
  event.preventDefault();
  document.body.classList.remove("over");
  guard(dropped([...event.dataTransfer.items]).then(read));
});
$("cancel").addEventListener("click", () => {
  stopped = true;
  $("doing").textContent = "Stopping";
  // A design that takes long is not waited for.
  slow = setTimeout(() => {
    worker.terminate();
    const left = [...waiting.values()];
    waiting.clear();
    wake();
    for (const done of left) done.no(new Error("stopped"));
  }, 2000);
});
$("clear").addEventListener("click", () => {
  given = new Map();
  open = "";
  $("compared").hidden = true;
  $("page").srcdoc = "";
  guard(ask("clear").then(show));
});
$("compare").addEventListener("click", () => guard(compare()));
$("save-json").addEventListener("click", () => guard(ask("json").then((b) => save(b, "stopcard.json", "application/json"))));
$("save-page").addEventListener("click", () => { if (pageText) save(pageText, pageName + ".html", "text/html"); });
$("card-pdf").addEventListener("click", () => guard(ask("card-pdf", { path: open, paper: $("paper").value }).then((b) => save(b, stem(open) + "-card.pdf", "application/pdf"))));
$("card-png").addEventListener("click", () => guard(ask("card-png", { path: open, paper: $("paper").value }).then((b) => save(b, stem(open) + "-card.zip", "application/zip"))));
$("full").addEventListener("click", () => $("page").requestFullscreen && guard($("page").requestFullscreen()));
$("correct-form").addEventListener("submit", (event) => { event.preventDefault(); guard(correct(saying())); });
$("take-back").addEventListener("click", () => guard(correct({ title: "", stops: [], pieces: [] })));
$("save-notes").addEventListener("click", () => guard(ask("notes", { path: open, said: saying() }).then((b) => save(b, stem(open) + ".notes.toml", "text/plain"))));
for (const [id, buyer] of [["proof", false], ["buyer", true]]) {
  $(id).addEventListener("click", () => guard(ask("proof", { buyer }).then((b) => {
    pageText = b;
    pageName = buyer ? "for-buyers" : "proof";
    ofDesign(false);
    $("shown-title").textContent = buyer ? "Sheet for buyers" : "Ready to publish?";
    $("shown").hidden = false;
    $("page").srcdoc = new TextDecoder().decode(b);
    $("shown-title").focus();
  })));
}
$("print").addEventListener("click", () => $("page").contentWindow.print());
$("whatif-form").addEventListener("submit", (event) => guard(whatif(event)));
$("hoop").addEventListener("change", () => {
  ownHoop();
  $("forget-hoop").hidden = true;
  if ($("hoop").value !== "own size") guard(set("hoop", $("hoop").value));
});
$("keep-hoop").addEventListener("click", () => guard(keepHoop()));
$("forget-hoop").addEventListener("click", () => guard(set("hoops " + settings.hoop, "")));
$("speed").addEventListener("change", () => guard(set("speed", $("speed").value)));
$("paper").addEventListener("change", () => guard(set("paper", $("paper").value)));
$("take-settings").addEventListener("click", () => $("files").click());
$("save-settings").addEventListener("click", () => save(settings.file, "settings.toml", "text/plain"));
$("no-threads").addEventListener("click", () => guard(ask("no-threads").then((now) => { inForce(now); if (given.size) return show(); })));
$("usual").addEventListener("click", () => guard(ask("read-settings", { name: "settings", value: "" }).then((now) => { inForce(now); if (given.size) return show(); })));

const begun = begin(); // what is given meanwhile waits
queue = begun.catch(() => {});
guard(begun);
// For those who drive the page by a script: the same question as the buttons ask.
window.stopcardAsk = ask;
})();
