// What a person gave stands in a folder that only the engine sees: it reads files where
// they are, piece by piece, as it would read a disk, and nothing can be written.
const given = (() => {
  const files = new Map(), folders = new Map([["", new Set()]]), open = new Map();
  const window = 1 << 18; // bytes read at a time at least
  let last = 100;

  const plain = (path) => path.split("/").filter((part) => part && part !== ".").join("/");
  const fault = (code) => Object.assign(new Error(code), { code });
  // Every call of the engine ends at once: its file is at hand.
  const answer = (back, f) => {
    let got, wrong = null;
    try {
      got = f();
    } catch (problem) {
      wrong = problem.code && typeof problem.code === "string" ? problem : fault("EIO");
    }
    back(wrong, got);
  };
  const state = (path) => {
    const file = files.get(path);
    if (!file && !folders.has(path)) throw fault("ENOENT");
    const when = file ? file.lastModified : 0;
    return {
      mode: file ? 0o100444 : 0o40555, size: file ? file.size : 0, isDirectory: () => !file,
      dev: 0, ino: 0, nlink: 1, uid: 0, gid: 0, rdev: 0, blksize: window, blocks: 0, atimeMs: when, mtimeMs: when, ctimeMs: when,
    };
  };
  const at = (fd) => {
    if (!open.has(fd)) throw fault("EBADF");
    return open.get(fd);
  };
  const read = (h, to, place) => {
    const file = files.get(h.path);
    if (!file) throw fault("EISDIR");
    const want = Math.min(to.length, file.size - place);
    if (want <= 0) return 0;
    if (place < h.from || place + want > h.from + h.held.length) {
      h.held = new Uint8Array(new FileReaderSync().readAsArrayBuffer(file.slice(place, place + Math.max(want, window))));
      h.from = place;
    }
    const got = h.held.subarray(place - h.from, place - h.from + want);
    to.set(got);
    return got.length;
  };
  globalThis.fs.constants.O_DIRECTORY = 1 << 16;
  Object.assign(globalThis.fs, {
    stat: (path, back) => answer(back, () => state(plain(path))),
    lstat: (path, back) => answer(back, () => state(plain(path))),
    fstat: (fd, back) => answer(back, () => state(at(fd).path)),
    readdir: (path, back) => answer(back, () => {
      if (!folders.has(plain(path))) throw fault("ENOENT");
      return [...folders.get(plain(path))];
    }),
    open: (path, flags, mode, back) => answer(back, () => {
      state(plain(path));
      open.set(++last, { path: plain(path), place: 0, from: 0, held: new Uint8Array(0) });
      return last;
    }),
    close: (fd, back) => answer(back, () => { open.delete(fd); }),
    read: (fd, to, offset, length, place, back) => answer(back, () => {
      const h = at(fd), n = read(h, to.subarray(offset, offset + length), place ?? h.place);
      if (place === null) h.place += n;
      return n;
    }),
  });

  const remove = (top) => {
    for (const path of [...files.keys()]) if (path === top || path.startsWith(top + "/")) files.delete(path);
    for (const path of [...folders.keys()]) if (path === top || path.startsWith(top + "/")) folders.delete(path);
    folders.get("").delete(top);
  };
  return {
    // put takes files up, in place of what was given under the same name before.
    put(list) {
      const all = list.map(({ name, file }) => ({ path: plain(name), file }));
      for (const top of new Set(all.map((f) => f.path.split("/")[0]))) remove(top);
      for (const { path, file } of all) {
        files.set(path, file);
        const parts = path.split("/");
        parts.forEach((part, i) => {
          const folder = parts.slice(0, i).join("/");
          if (!folders.has(folder)) folders.set(folder, new Set());
          folders.get(folder).add(part);
        });
      }
    },
    clear() {
      for (const top of [...folders.get("")]) remove(top);
    },
  };
})();
