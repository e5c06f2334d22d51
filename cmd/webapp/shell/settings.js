const hoops = [[100, 100], [110, 110], [130, 180], [150, 240], [160, 260], [200, 200], [200, 300], [230, 300], [200, 360]];

// Settings live on this device, as the text of the settings file, where the browser
// lets them.
const store = {
  get() { try { return localStorage.getItem("stopcard-settings.toml") || ""; } catch { return ""; } },
  set(text) { try { localStorage.setItem("stopcard-settings.toml", text); } catch { /* a private window */ } },
};

let settings;
async function begin() {
  wake();
  const was = store.get();
  inForce(await ask("settings"));
  if (was) inForce(await ask("read-settings", { name: "the settings kept here", value: was }));
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
