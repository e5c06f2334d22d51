// What a person said of a design is kept under a key of its stitches, on this device.
function keyOf(path) {
  const d = list.designs.find((d) => d.path === path);
  return d ? "stopcard-said-" + d.key : "";
}
const kept = {
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
  kept.set(path, what.title || what.stops.length || what.pieces.length ? what : null);
  await show();
}
