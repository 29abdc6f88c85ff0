// Judges the meshes that a build wrote: every part-*.stl and every shell of frame.obj must be a closed oriented
// 2-manifold by manifold-3d, and the shells of the OBJ must have the volume of frame.stl within a hundred-thousandth.
// usage: node outputs.mjs FOLDER
import { readFileSync, readdirSync } from 'node:fs';
import { join } from 'node:path';
import Module from 'manifold-3d';

const wasm = await Module();
wasm.setup();
const { Manifold, Mesh } = wasm;
const folder = process.argv[2];
let failed = 0;
const fail = text => { console.log(`FAILED: ${text}`); failed++; };

// Corners at the same float32 place are one point: STL knows no other names.
function stl(path) {
  const b = readFileSync(path), n = b.readUInt32LE(80), points = [], triangles = new Uint32Array(3 * n), seen = new Map();
  let volume = 0;
  for (let t = 0; t < n; t++) {
    const p = [];
    for (let c = 0; c < 3; c++) {
      const at = 84 + 50 * t + 12 + 12 * c, key = b.toString('latin1', at, at + 12);
      if (!seen.has(key)) { seen.set(key, points.length / 3); points.push(b.readFloatLE(at), b.readFloatLE(at + 4), b.readFloatLE(at + 8)); }
      triangles[3 * t + c] = seen.get(key);
      p.push([b.readFloatLE(at), b.readFloatLE(at + 4), b.readFloatLE(at + 8)]);
    }
    volume += (p[0][0] * (p[1][1] * p[2][2] - p[1][2] * p[2][1]) + p[0][1] * (p[1][2] * p[2][0] - p[1][0] * p[2][2]) + p[0][2] * (p[1][0] * p[2][1] - p[1][1] * p[2][0])) / 6;
  }
  return { points, triangles, volume };
}

function judge(name, points, triangles) {
  const solid = new Manifold(new Mesh({ numProp: 3, vertProperties: new Float32Array(points), triVerts: triangles }));
  const status = solid.status();
  if (status !== 'NoError' && status.value !== 0 && status !== 0) fail(`${name}: ${JSON.stringify(status)}`);
  const volume = solid.volume();
  solid.delete();
  if (!(volume > 0)) fail(`${name}: volume ${volume}`);
  return volume;
}

let parts = 0;
for (const file of readdirSync(join(folder, 'mesh')).filter(f => /^part-.*\.stl$/.test(f)).sort()) {
  const m = stl(join(folder, 'mesh', file)), volume = judge(file, m.points, m.triangles);
  if (Math.abs(volume - m.volume) > 1e-6 * m.volume) fail(`${file}: volume ${volume} against ${m.volume}`);
  parts++;
}

const vertices = [], groups = [];
for (const line of readFileSync(join(folder, 'mesh', 'frame.obj'), 'utf8').split('\n')) {
  const f = line.trim().split(/\s+/);
  if (f[0] === 'v') vertices.push(f.slice(1, 4).map(Number));
  else if (f[0] === 'g' || f[0] === 'o') { if (!groups.length || groups.at(-1).faces.length || groups.at(-1).name !== f[1]) groups.push({ name: f[1], faces: [] }); }
  else if (f[0] === 'f') groups.at(-1).faces.push(f.slice(1).map(c => parseInt(c, 10) - 1));
}
let shells = 0, sum = 0;
for (const g of groups.filter(g => g.faces.length)) {
  const seen = new Map(), points = [], triangles = [];
  for (const face of g.faces) for (const v of face) {
    if (!seen.has(v)) { seen.set(v, points.length / 3); points.push(...vertices[v]); }
    triangles.push(seen.get(v));
  }
  sum += judge(`frame.obj ${g.name}`, points, new Uint32Array(triangles));
  shells++;
}
const whole = stl(join(folder, 'mesh', 'frame.stl')).volume;
if (Math.abs(sum - whole) > 1e-5 * whole) fail(`frame: the shells have ${sum} mm³, frame.stl ${whole}`);
if (parts < 1 || shells < 1) fail('nothing was judged');
console.log(`manifold-3d: ${parts} parts and ${shells} shells judged, ${failed} faults`);
process.exit(failed ? 1 : 0);
