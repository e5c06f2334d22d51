// The worker: unpacks the engine, then answers one question after another.
let ready;
const started = new Promise((done) => { ready = done; });
self.stopcardReady = () => ready();

async function start(packed) {
  const stream = new Blob([packed]).stream().pipeThrough(new DecompressionStream("gzip"));
  const bytes = await new Response(stream).arrayBuffer();
  const go = new Go();
  const { instance } = await WebAssembly.instantiate(bytes, go.importObject);
  go.run(instance);
  await started;
}

let engine;
self.onmessage = async (event) => {
  const { id, packed, question, args, files } = event.data;
  if (packed) {
    engine = start(packed);
    return;
  }
  try {
    await engine;
    if (files) given.put(files);
    if (question === "clear") given.clear();
    const got = self.stopcard(question, JSON.stringify(args || {}));
    self.postMessage({ id, ...got }, got.bytes ? [got.bytes.buffer] : []);
  } catch (problem) {
    self.postMessage({ id, error: String(problem), broken: true });
  }
};
