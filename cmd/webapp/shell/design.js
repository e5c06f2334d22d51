const nothing = { designs: [], unreadable: [] };
let list = nothing, open = "", pageText = null, pageName = "";

async function showList() { showRows(await ask("list")); }

function showRows(now) {
  list = now;
  $("rows").replaceChildren(...list.designs.map(row));
  $("lost").replaceChildren(...list.unreadable.map((u) => item(u.path + ": " + u.error)));
  $("found").hidden = !list.designs.length && !list.unreadable.length;
  $("compare").hidden = list.designs.length < 2;
  $("proof").hidden = $("buyer").hidden = !list.designs.length;
}

// show lists what was read, and opens what came last: of several the largest that fits
// the hoop, with its own colours and sound if there is one. Shut, nothing is opened.
async function show(shut) {
  await showList();
  const came = list.designs.filter((d) => fresh.has(d.path));
  fresh.clear();
  let said = false;
  for (const d of came) {
    const was = kept.get(d.path);
    if (was) await ask("correct", { path: d.path, said: was });
    said ||= was;
  }
  if (said) await showList();
  const area = (d) => Math.round(d.width_mm * d.height_mm);
  const best = (all) => [...all].sort((a, b) => b.fits - a.fits || area(b) - area(a) || b.coloured - a.coloured || b.named - a.named ||
    !!a.damage - !!b.damage || a.faults - b.faults || a.warnings - b.warnings)[0]?.path;
  const still = list.designs.some((d) => d.path === open);
  const next = best(came) || (still ? open : best(list.designs));
  if (next && !shut) await openDesign(next);
  else close();
}

function close() {
  open = "";
  pageText = null;
  $("shown").hidden = true;
  $("page").srcdoc = "";
  $("first").width = $("first").height = 0;
  fields = pieces = [];
  for (const id of ["said-stops", "whatif"]) $(id).replaceChildren();
}

// openDesign shows a design: at once its picture, then its page, and last what takes
// longest. What was being opened before is broken off.
let opening = 0;
async function openDesign(path, move) {
  const other = path !== open;
  if (opening) stop(opening);
  opening = 0;
  $("work").hidden = false;
  $("cancel").hidden = true;
  $("progress").removeAttribute("value");
  $("doing").textContent = "Drawing " + path;
  idleWork = null;
  try {
    if (other) {
      $("page").classList.add("waiting");
      $("first").hidden = true;
      $("whatif").replaceChildren();
    }
    open = path;
    pageText = null;
    pageName = stem(path);
    ofDesign(true);
    $("shown-title").textContent = path;
    $("shown").hidden = false;
    for (const tr of $("rows").children) tr.setAttribute("aria-current", tr.dataset.path === path ? "true" : "false");
    if (move) $("shown-title").focus();
    if (other) await drawFirst(path);
    const asked = ask("page", { path }), mine = opening = last;
    const bytes = await asked.catch((problem) => {
      if (problem.stopped) return null;
      throw problem;
    });
    if (opening !== mine) return; // another was opened meanwhile
    opening = 0;
    if (!bytes) return;
    $("page").srcdoc = new TextDecoder().decode(bytes);
    await fillCorrections(path);
  } finally {
    if (!opening) $("work").hidden = true;
  }
}

// The first picture is drawn as large as it is shown; the page brings a sharper one.
async function drawFirst(path) {
  const canvas = $("first"), wide = Math.min(640, $("shown").clientWidth) * Math.min(devicePixelRatio, 2);
  const bytes = await ask("picture", { path, width: Math.round(wide) });
  if (path !== open) return;
  const size = new DataView(bytes.buffer), w = size.getUint32(0, true), h = size.getUint32(4, true);
  canvas.width = w;
  canvas.height = h;
  canvas.getContext("2d").putImageData(new ImageData(new Uint8ClampedArray(bytes.buffer, 8, 4 * w * h), w, h), 0, 0);
  canvas.hidden = false;
}

// How far a design may be resized takes longest, and comes into the page last.
function findLimits(path, doc) {
  const section = doc.querySelector(".resizing[hidden]");
  idleWork = section && (() => {
    askWhenIdle("limits", { path }).then((lines) => {
      idleWork = null;
      section.querySelector("ul").replaceChildren(...lines.map((line) => {
        const li = doc.createElement("li");
        li.textContent = line;
        return li;
      }));
      section.hidden = !lines.length;
    }, (problem) => {
      if (problem.stopped) return;
      idleWork = null;
      if (!problem.ended) say(problem.message);
    });
  });
  whenIdle();
}

// The frame is as tall as what it shows, so that there is one way to scroll. Where the
// page in it opens something over all, such as one stop at a time, the frame fills
// the window.
let watching = [];
$("page").addEventListener("load", () => {
  for (const w of watching) w.disconnect();
  const frame = $("page"), doc = frame.contentDocument;
  if (!doc || !doc.body || !doc.body.firstElementChild) return;
  $("first").hidden = true;
  frame.classList.remove("waiting");
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
  if (open && !pageText) findLimits(open, doc);
});

// ofDesign shows or hides what is about one design: a proof is about all.
function ofDesign(is) {
  for (const e of [$("card-pdf"), $("paper").parentElement, $("card-png"), $("correct"), $("whatif-form"), $("whatif")]) e.hidden = !is;
}
