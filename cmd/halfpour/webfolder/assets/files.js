// The files of the engine: what Go asks of Node's fs, as far as halfpour uses it.
// They are kept in IndexedDB: names lead to numbers, numbers to bytes. In memory
// are the names, and the bytes of files that are open or not yet kept. What
// changes names is answered when the database has it; changes go in one by one,
// in the order in which they were made.
"use strict";
const fault = (code) => Object.assign(new Error(code), { code });
const flag = { O_WRONLY: 1, O_RDWR: 2, O_CREAT: 64, O_EXCL: 128, O_TRUNC: 512, O_APPEND: 1024, O_DIRECTORY: 65536 };
const folderMode = 0o40777, fileMode = 0o100666;

const paths = new Map(); // of every file and folder, with what is known of it
const handles = new Map();
let database, lastNumber = 1, lastHandle = 2;

const wait = (request) => new Promise((done, fail) => {
  request.onsuccess = () => done(request.result);
  request.onerror = () => fail(request.error);
});

// keep changes the database; it fails as a full disk does.
const keep = (change) => new Promise((done, fail) => {
  const all = database.transaction(["names", "bytes"], "readwrite");
  change(all.objectStore("names"), all.objectStore("bytes"));
  all.oncomplete = () => done();
  all.onabort = () => fail(fault(all.error?.name === "QuotaExceededError" ? "ENOSPC" : "EIO"));
});

const newNode = (folder) => ({ number: ++lastNumber, folder, size: 0, changed: Date.now(), bytes: folder ? null : new Uint8Array(0), links: 0, open: 0, dirty: false });
const record = (node) => ({ number: node.number, folder: node.folder, size: node.size, changed: node.changed });

const openFiles = async () => {
  const request = indexedDB.open("halfpour", 1);
  request.onupgradeneeded = () => { request.result.createObjectStore("names"); request.result.createObjectStore("bytes"); };
  database = await wait(request);
  const names = database.transaction("names").objectStore("names");
  const [keys, records] = await Promise.all([wait(names.getAllKeys()), wait(names.getAll())]);
  const nodes = new Map();
  keys.forEach((path, i) => {
    const r = records[i], node = nodes.get(r.number) ?? { ...r, bytes: null, links: 0, open: 0, dirty: false };
    nodes.set(r.number, node);
    node.links++;
    paths.set(path, node);
    lastNumber = Math.max(lastNumber, r.number);
  });
  if (!paths.has("/")) paths.set("/", newNode(true));
};

const clean = (path) => {
  const parts = [];
  for (const part of path.split("/")) {
    if (part === "..") parts.pop();
    else if (part !== "" && part !== ".") parts.push(part);
  }
  return "/" + parts.join("/");
};
const above = (path) => path.slice(0, Math.max(1, path.lastIndexOf("/")));
const within = (folder) => [...paths.keys()].filter((p) => p !== "/" && above(p) === folder);

const nodeAt = (path) => {
  const node = paths.get(path);
  if (node) return node;
  const folder = paths.get(above(path));
  throw fault(folder && !folder.folder ? "ENOTDIR" : "ENOENT");
};

const folderFor = (path) => { if (!nodeAt(above(path)).folder) throw fault("ENOTDIR"); };

const load = async (node) => { node.bytes ??= (await wait(database.transaction("bytes").objectStore("bytes").get(node.number))) ?? new Uint8Array(0); };

// save keeps a file's bytes, and lets go of them when nobody has it open.
const save = async (node) => {
  if (node.dirty && node.links > 0) {
    node.dirty = false;
    const bytes = node.bytes.slice(0, node.size);
    await keep((names, store) => {
      store.put(bytes, node.number);
      for (const [path, n] of paths) if (n === node) names.put(record(node), path);
    }).catch((e) => { node.dirty = true; throw e; });
  }
  if (!node.open && !node.dirty && node.links > 0) node.bytes = null;
};

const drop = (node, store) => { if (--node.links <= 0) store.delete(node.number); };

const fit = (node, size) => {
  if (size <= node.bytes.length) return;
  const more = new Uint8Array(Math.max(size, 2 * node.bytes.length));
  more.set(node.bytes.subarray(0, node.size));
  node.bytes = more;
};

const setSize = (node, size) => {
  fit(node, size);
  node.bytes.fill(0, Math.min(size, node.size), Math.max(size, node.size));
  Object.assign(node, { size, changed: Date.now(), dirty: true });
};

const handleOf = (number) => { const h = handles.get(number); if (!h) throw fault("EBADF"); return h; };

const status = (node) => ({
  dev: 1, ino: node.number, mode: node.folder ? folderMode : fileMode, nlink: node.links, uid: 0, gid: 0, rdev: 0, size: node.size, blksize: 4096,
  blocks: Math.ceil(node.size / 512), atimeMs: node.changed, mtimeMs: node.changed, ctimeMs: node.changed, isDirectory: () => node.folder,
});

const add = (path, node) => {
  paths.set(path, node);
  node.links++;
  return keep((names) => names.put(record(node), path));
};

// What Go calls. Each returns its answer or promises it.
const calls = {
  open(path, flags) {
    let node = paths.get(path), added;
    if (node && flags & flag.O_CREAT && flags & flag.O_EXCL) throw fault("EEXIST");
    if (!node && flags & flag.O_CREAT) {
      folderFor(path);
      node = newNode(false);
      added = add(path, node);
    }
    node ??= nodeAt(path);
    if (node.folder && flags & (flag.O_WRONLY | flag.O_RDWR)) throw fault("EISDIR");
    if (!node.folder && flags & flag.O_DIRECTORY) throw fault("ENOTDIR");
    const number = ++lastHandle, ready = () => {
      if (flags & flag.O_TRUNC && node.size) setSize(node, 0);
      handles.set(number, { node, at: 0, flags });
      return number;
    };
    node.open++;
    if (added || !node.folder && !node.bytes) return Promise.all([added, node.folder || load(node)]).then(ready, (e) => { node.open--; throw e; });
    return ready();
  },
  close(number) {
    const { node } = handleOf(number);
    handles.delete(number);
    node.open--;
    if (!node.folder) return save(node);
  },
  read(number, to, offset, length, position) {
    const h = handleOf(number), at = position ?? h.at;
    const part = h.node.bytes.subarray(at, Math.min(at + length, h.node.size));
    to.set(part, offset);
    if (position === null) h.at += part.length;
    return part.length;
  },
  write(number, from, offset, length, position) {
    if (number <= 2) { console.log(new TextDecoder().decode(from.subarray(offset, offset + length))); return length; }
    const h = handleOf(number), { node } = h, at = h.flags & flag.O_APPEND ? node.size : position ?? h.at;
    if (at + length > node.size) setSize(node, at + length);
    node.bytes.set(from.subarray(offset, offset + length), at);
    Object.assign(node, { changed: Date.now(), dirty: true });
    if (position === null) h.at = at + length;
    return length;
  },
  fstat: (number) => status(handleOf(number).node),
  stat: (path) => status(nodeAt(path)),
  lstat: (path) => status(nodeAt(path)),
  fsync: (number) => save(handleOf(number).node),
  ftruncate: (number, size) => setSize(handleOf(number).node, size),
  mkdir(path) {
    if (paths.has(path)) throw fault("EEXIST");
    folderFor(path);
    return add(path, newNode(true));
  },
  readdir(path) {
    if (!nodeAt(path).folder) throw fault("ENOTDIR");
    return within(path).map((p) => p.slice(path === "/" ? 1 : path.length + 1)).sort();
  },
  rmdir(path) {
    if (!nodeAt(path).folder) throw fault("ENOTDIR");
    if (within(path).length) throw fault("ENOTEMPTY");
    paths.delete(path);
    return keep((names) => names.delete(path));
  },
  unlink(path) {
    const node = nodeAt(path);
    if (node.folder) throw fault("EISDIR");
    paths.delete(path);
    return keep((names, store) => { names.delete(path); drop(node, store); });
  },
  link(path, to) {
    const node = nodeAt(path);
    if (paths.has(to)) throw fault("EEXIST");
    folderFor(to);
    return add(to, node);
  },
  rename(path, to) {
    const node = nodeAt(path), old = paths.get(to);
    folderFor(to);
    if (node.folder || old?.folder) throw fault(node.folder && !old ? "ENOSYS" : "EISDIR");
    if (node === old) return undefined;
    paths.delete(path);
    paths.set(to, node);
    return keep((names, store) => {
      names.delete(path);
      names.put(record(node), to);
      if (old) drop(old, store);
    });
  },
  chmod() {}, fchmod() {}, utimes() {},
};
const pathCalls = { open: 1, stat: 1, lstat: 1, mkdir: 1, readdir: 1, rmdir: 1, unlink: 1, link: 2, rename: 2, chmod: 1, utimes: 1 };

// Go hands over what to call with the answer.
const call = (name) => (...args) => {
  const answer = args.pop();
  try {
    for (let i = 0; i < (pathCalls[name] ?? 0); i++) args[i] = clean(args[i]);
    const said = calls[name](...args);
    if (said instanceof Promise) said.then((v) => answer(null, v), (e) => answer(e.code ? e : fault("EIO")));
    else answer(null, said);
  } catch (e) {
    answer(e.code ? e : fault("EIO"));
  }
};
const missing = (...args) => args.pop()(fault("ENOSYS"));
globalThis.fs = { constants: flag, writeSync: (number, from) => calls.write(number, from, 0, from.length, null) };
for (const name of Object.keys(calls)) globalThis.fs[name] = call(name);
for (const name of ["chown", "fchown", "lchown", "readlink", "symlink", "truncate"]) globalThis.fs[name] = missing;
globalThis.process = { getuid: () => -1, getgid: () => -1, geteuid: () => -1, getegid: () => -1, getgroups: () => [], pid: 1, ppid: 1, umask: () => 0, cwd: () => "/", chdir: () => { throw fault("ENOSYS"); } };
globalThis.path = { resolve: (...parts) => clean(parts.join("/")) };
