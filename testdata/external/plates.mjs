// Judges the printed parts that a build wrote: every object of brackets/plates.3mf must be a closed oriented 2-manifold by
// manifold-3d, with the volume that recount.py found in the same package and that its own STL file has, and it must be
// placed as often as hardware.csv counts it. The package is read with Node's own inflate.
// usage: node plates.mjs FOLDER RECOUNT.json [NODE_MODULES]
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { inflateRawSync } from 'node:zlib';
import { pathToFileURL } from 'node:url';

const [folder, recount, modules] = process.argv.slice(2);
const { default: Module } = await import(modules ? pathToFileURL(join(modules, 'manifold-3d', 'manifold.js')).href : 'manifold-3d');
const wasm = await Module();
wasm.setup();
const { Manifold, Mesh } = wasm;
let failed = 0;
const fail = text => { console.log(`FAILED: ${text}`); failed++; };

// The files of a zip package by its central directory.
function unzip(b) {
  let end = b.length - 22;
  while (b.readUInt32LE(end) !== 0x06054b50) end--;
  const files = new Map();
  for (let at = b.readUInt32LE(end + 16), n = b.readUInt16LE(end + 10); n > 0; n--) {
    const method = b.readUInt16LE(at + 10), size = b.readUInt32LE(at + 20), name = b.toString('utf8', at + 46, at + 46 + b.readUInt16LE(at + 28));
    const local = b.readUInt32LE(at + 42), start = local + 30 + b.readUInt16LE(local + 26) + b.readUInt16LE(local + 28);
    const data = b.subarray(start, start + size);
    files.set(name, method === 8 ? inflateRawSync(data) : data);
    at += 46 + b.readUInt16LE(at + 28) + b.readUInt16LE(at + 30) + b.readUInt16LE(at + 32);
  }
  return files;
}

function volumeOf(name, points, triangles) {
  const solid = new Manifold(new Mesh({ numProp: 3, vertProperties: new Float32Array(points), triVerts: new Uint32Array(triangles) }));
  const status = solid.status(), volume = solid.volume();
  solid.delete();
  if (status !== 'NoError' && status.value !== 0 && status !== 0) fail(`${name}: ${JSON.stringify(status)}`);
  if (!(volume > 0)) fail(`${name}: volume ${volume}`);
  return volume;
}

function stl(path) {
  const b = readFileSync(path), n = b.readUInt32LE(80), points = [], triangles = [], seen = new Map();
  for (let k = 0; k < 3 * n; k++) {
    const at = 84 + 50 * Math.floor(k / 3) + 12 + 12 * (k % 3), key = b.toString('latin1', at, at + 12);
    if (!seen.has(key)) { seen.set(key, points.length / 3); points.push(b.readFloatLE(at), b.readFloatLE(at + 4), b.readFloatLE(at + 8)); }
    triangles.push(seen.get(key));
  }
  return volumeOf(path, points, triangles);
}

const near = (a, b) => Math.abs(a - b) <= 1e-5 * Math.abs(b); // manifold-3d keeps float32
const attribute = (tag, name) => (tag.match(new RegExp(`\\b${name}="([^"]*)"`)) ?? [])[1];
const model = [...unzip(readFileSync(join(folder, 'brackets', 'plates.3mf')))].find(([name]) => name.endsWith('.model'))[1].toString('utf8');
const counted = new Map(JSON.parse(readFileSync(recount, 'utf8')).each.map(o => [o.name, o]));
const wanted = new Map(readFileSync(join(folder, 'hardware.csv'), 'utf8').split('\n').filter(l => l.startsWith('printed part,')).map(l => { const f = l.split(','); return [f[2], Number(f[3])]; }));
const placed = new Map();
for (const item of model.match(/<item\b[^>]*>/g) ?? []) placed.set(attribute(item, 'objectid'), 1 + (placed.get(attribute(item, 'objectid')) ?? 0));
let objects = 0;
for (const text of model.match(/<object\b[\s\S]*?<\/object>/g) ?? []) {
  const name = attribute(text, 'name');
  const points = (text.match(/<vertex\b[^>]*>/g) ?? []).flatMap(v => ['x', 'y', 'z'].map(k => Number(attribute(v, k))));
  const triangles = (text.match(/<triangle\b[^>]*>/g) ?? []).flatMap(t => ['v1', 'v2', 'v3'].map(k => Number(attribute(t, k))));
  const volume = volumeOf(name, points, triangles), other = counted.get(name), copies = placed.get(attribute(text, 'id'));
  if (!other || !near(volume, other.volume)) fail(`${name}: ${volume} mm³, Python counts ${other?.volume}`);
  const file = stl(join(folder, 'brackets', name.replace(/[^A-Za-z0-9_.-]/g, '-') + '.stl'));
  if (!near(file, volume)) fail(`${name}: ${volume} mm³, its STL has ${file}`);
  if (copies !== wanted.get(name) || copies !== other?.items) fail(`${name}: ${copies} on the plates, hardware.csv has ${wanted.get(name)}, Python counts ${other?.items}`);
  objects++;
}
if (objects < 1 || objects !== wanted.size || objects !== counted.size) fail(`${objects} objects, hardware.csv has ${wanted.size} printed parts, Python counts ${counted.size}`);
console.log(`manifold-3d: ${objects} printed parts judged, ${failed} faults`);
process.exit(failed ? 1 : 0);
