// The engine works beside the page, so that the page stays at hand. As a blob it takes
// no room in the page's memory, and it is started before a person has chosen a file. Once
// compiled it is kept so, where the browser lets it be handed on: begun anew it is there at once.
const packed = new Blob([sevenBits($("engine-text").textContent)]);
let compiled = null;
let worker, alive = false, waiting = new Map(), last = 0, patient = 0;

// The engine stands in the page as characters of seven bits each; one above them stands
// for two, the first of which HTML would have changed.
function sevenBits(text) {
  let pairs = 0;
  for (let i = 0; i < text.length; i++) if (text.charCodeAt(i) > 127) pairs++;
  const out = new Uint8Array(Math.floor((text.length + pairs) * 7 / 8));
  let held = 0, bits = 0, n = 0;
  const take = (v) => {
    held = (held << 7 | v) & 0x7fff;
    bits += 7;
    if (bits >= 8) {
      bits -= 8;
      out[n++] = held >> bits & 255;
    }
  };
  for (let i = 0; i < text.length; i++) {
    const v = text.charCodeAt(i);
    if (v > 127) take([0, 13, 60][(v >> 7) - 2]);
    take(v & 127);
  }
  return out;
}

function wake() {
  const url = URL.createObjectURL(new Blob([$("worker-text").textContent], { type: "text/javascript" }));
  alive = false;
  worker = new Worker(url);
  URL.revokeObjectURL(url);
  worker.onmessage = (event) => {
    const m = event.data;
    if (event.target !== worker) return; // the one before said it
    if (m.compiled) {
      compiled = m.compiled;
      return;
    }
    if (m.ended) {
      restart("This was too much for the reader, which had to begin anew.");
      return;
    }
    alive = true;
    const done = waiting.get(m.id);
    waiting.delete(m.id);
    if (patient === m.id) patient = 0;
    if (!done) return;
    if (m.error) done.no(Object.assign(new Error(m.error), { stopped: m.stopped }));
    else done.yes(m.json !== undefined ? JSON.parse(m.json) : m.bytes);
    if (!waiting.size) setTimeout(whenIdle);
  };
  worker.onerror = (event) => {
    event.preventDefault();
    restart(event.message || "the reader ended");
  };
  worker.postMessage({ packed, compiled });
}

// restart ends the worker whatever it does, and all that was asked of it. One that never
// answered would not answer the next time either, unless it was not given the time to.
function restart(why, away) {
  const left = [...waiting.values()];
  waiting.clear();
  patient = 0;
  worker.terminate();
  if (alive || away) wake();
  for (const done of left) done.no(Object.assign(new Error(why), { ended: true, away }));
}

function send(question, args, files) {
  return new Promise((yes, no) => {
    const id = ++last;
    waiting.set(id, { yes, no });
    worker.postMessage({ id, question, args, files });
  });
}

// ask asks the engine; what it does meanwhile that can wait is broken off.
function ask(question, args, files) {
  if (patient) stop(patient);
  patient = 0;
  return send(question, args, files);
}

// askWhenIdle asks what can wait: it is broken off when anything else is asked.
function askWhenIdle(question, args) {
  const asked = send(question, args);
  patient = last;
  return asked;
}

// stop breaks off a question, which then fails as stopped.
function stop(id) { worker.postMessage({ stop: id }); }

// whenIdle goes on with what can wait, if there is any.
let idleWork = null;
function whenIdle() {
  if (idleWork && !waiting.size) idleWork();
}
