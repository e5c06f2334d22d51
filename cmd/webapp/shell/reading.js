// What a person gave, kept so that it can be read again: for each name that was given,
// of a file or a folder, the files.
let given = new Map();
let fresh = new Set();

function topOf(name) { return name.split("/")[0]; }

// Files are read design by design, so that reading can be stopped between two, and one
// lot after another.
let queue = Promise.resolve(), stopped = false, decoding = 0, slow = 0;
const listEvery = 700; // milliseconds
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

async function readNow(lot, shut) {
  if (!lot.size) return;
  const wrong = [], tops = [...lot.keys()], settle = (top) => isSettings(top) && lot.get(top)[0].name === top;
  let inHand = null, n = 0, designs = 0, again = false, listed = performance.now();
  stopped = false;
  decoding = 0;
  say("");
  $("work").hidden = $("cancel").hidden = false;
  $("progress").max = tops.length;
  try {
    await ask("given", {}, [...lot.values()].flat());
    // Settings come first, for they take the place of all before, and then threads: the
    // designs are read under them.
    const rank = (top) => !settle(top) ? 2 : /\.csv$/i.test(top) ? 1 : 0;
    for (const top of tops.sort((a, b) => rank(a) - rank(b))) {
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
        const asked = ask("next");
        decoding = last;
        step = await asked.catch((problem) => {
          if (problem.stopped) return {};
          throw problem;
        });
        decoding = 0;
        if (!step.path) continue;
        fresh.add(step.path);
        $("doing").textContent = "Read " + count(++designs, "design", "designs") + ", last " + step.path;
        if (step.more && performance.now() - listed > listEvery) {
          await showList();
          listed = performance.now();
        }
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
    await show(shut);
  } catch (problem) {
    if (!problem.ended || problem.away || !inHand) throw problem;
    const why = stopped ? "Reading was stopped." : problem.message;
    await revive(inHand);
    wrong.push(why + " " + inHand + " is left out.");
  } finally {
    clearTimeout(slow);
    $("work").hidden = true;
  }
  if (wrong.length) say(wrong.join(" "));
}

// revive reads all again in a new engine, but for what the last one could not do. Shut,
// no design is opened.
async function revive(without, shut) {
  const all = given;
  all.delete(without);
  given = new Map();
  await ask("read-settings", { name: "settings", value: settings.file });
  if (all.size) await readNow(all, shut);
  else await show();
}

// putAway forgets all that was given, whatever is being done with it. The engine begins
// anew, since the memory of one that runs only ever grows.
async function putAway() {
  given = new Map();
  fresh.clear();
  idleWork = null;
  opening = 0;
  restart("put away", true);
  say("");
  $("work").hidden = $("compared").hidden = true;
  $("matching").replaceChildren();
  showRows(nothing);
  close();
  await ask("read-settings", { name: "settings", value: settings.file });
}

// How jumps are taken for trims is the one setting that files are read by.
function trims() { return (/^trim-jumps = .*$/m.exec(settings.file) || [""])[0].split("#")[0].trim(); }

// Files dropped: single ones, and folders with all that lies in them. A page that lies in a
// file itself may read no entries in some browsers, and there are no handles in others.
async function dropped(items) {
  const out = [], folders = [];
  for (const it of items) {
    const entry = it.webkitGetAsEntry && it.webkitGetAsEntry();
    if (entry && entry.isDirectory) folders.push({ entry, handle: it.getAsFileSystemHandle && it.getAsFileSystemHandle() });
    else if (it.getAsFile()) { const file = it.getAsFile(); out.push({ name: file.name, file }); }
  }
  const sorted = (some) => some.sort((a, b) => a.name < b.name ? -1 : 1);
  const within = async (handle, at) => {
    const some = [];
    for await (const inner of handle.values()) some.push(inner);
    for (const inner of sorted(some)) {
      if (inner.kind === "directory") await within(inner, at + inner.name + "/");
      else out.push({ name: at + inner.name, file: await inner.getFile() });
    }
  };
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
      for (const inner of sorted(some)) await walk(inner, at + e.name + "/");
    }
  };
  for (const { entry, handle } of folders) {
    const before = out.length;
    try {
      if (handle) await within(await handle, entry.name + "/");
      else await walk(entry, "");
    } catch {
      out.length = before;
      throw new Error("This browser does not let a page read the folder " + entry.name + " when it is dropped: choose it by the button Choose a folder.");
    }
  }
  return out;
}
