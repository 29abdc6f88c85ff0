// Reads pairs of meshes (see overlapFile in fit_test.go) and prints, one JSON line for each pair, the volume in mm³ of what
// both hold, as manifold-3d finds it. The folder that holds manifold-3d is the second argument.
import { readFileSync } from 'node:fs';
import { pathToFileURL } from 'node:url';
import { join } from 'node:path';

const [file, modules] = process.argv.slice(2);
const load = await import(pathToFileURL(join(modules, 'manifold-3d', 'manifold.js')).href);
const wasm = await load.default();
wasm.setup();
const { Manifold, Mesh } = wasm;

const bytes = readFileSync(file);
let at = 0;
const u32 = () => { const v = bytes.readUInt32LE(at); at += 4; return v; };

function solid() {
  const np = u32(), vertProperties = new Float32Array(3 * np);
  for (let i = 0; i < 3 * np; i++, at += 4) vertProperties[i] = bytes.readFloatLE(at);
  const nt = u32(), triVerts = new Uint32Array(3 * nt);
  for (let i = 0; i < 3 * nt; i++, at += 4) triVerts[i] = bytes.readUInt32LE(at);
  const mesh = new Mesh({ numProp: 3, vertProperties, triVerts });
  mesh.merge();
  return new Manifold(mesh);
}

for (let n = u32(); n > 0; n--) {
  const a = solid(), b = solid(), common = a.intersect(b);
  console.log(JSON.stringify({ status: [a.status(), b.status()], volume: common.volume() }));
  [a, b, common].forEach((m) => m.delete());
}
