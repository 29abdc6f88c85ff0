// Reads a file of solids (see externalFile in mesh/external_solid_test.go), has manifold-3d judge each one, and
// prints one JSON line for each: its status, its volume, and, where the file gives the section and the tools, the volume
// of the same subtraction done by manifold-3d itself. The folder that holds manifold-3d may be given as second argument.
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { pathToFileURL } from 'node:url';
import { join } from 'node:path';

const [file, modules] = process.argv.slice(2);
const require = createRequire(modules ? join(modules, 'x.js') : import.meta.url);
const load = await import(pathToFileURL(modules ? join(modules, 'manifold-3d', 'manifold.js') : require.resolve('manifold-3d')).href);
const wasm = await load.default();
wasm.setup();
const { Manifold, Mesh, CrossSection } = wasm;

const bytes = readFileSync(file);
let at = 0;
const u32 = () => { const v = bytes.readUInt32LE(at); at += 4; return v; };
const f64 = () => { const v = bytes.readDoubleLE(at); at += 8; return v; };
const text = () => { const n = u32(); const s = bytes.toString('utf8', at, at + n); at += n; return s; };
const points2 = () => Array.from({ length: u32() }, () => [f64(), f64()]);

function readMesh() {
  const np = u32(), vertProperties = new Float32Array(3 * np);
  for (let i = 0; i < 3 * np; i++, at += 4) vertProperties[i] = bytes.readFloatLE(at);
  const nt = u32(), triVerts = new Uint32Array(3 * nt);
  for (let i = 0; i < 3 * nt; i++, at += 4) triVerts[i] = bytes.readUInt32LE(at);
  return { numProp: 3, vertProperties, triVerts };
}

function readShape() {
  const loops = Array.from({ length: u32() }, points2);
  const low = f64(), high = f64();
  const ends = Array.from({ length: 2 }, () => [f64(), f64(), f64()]);
  const tools = Array.from({ length: u32() }, () => ({ axis: u32(), low: f64(), high: f64(), points: points2() }));
  return { loops, low, high, ends, tools };
}

// A tool is extruded along z and turned onto its axis: the columns are the images of x, y, z and the origin.
const turns = [
  [0, 1, 0, 0, 0, 0, 1, 0, 1, 0, 0, 0, 0, 0, 0, 1],
  [1, 0, 0, 0, 0, 0, 1, 0, 0, -1, 0, 0, 0, 0, 0, 1],
  null,
];

function prism(points, low, high) {
  return Manifold.extrude(new CrossSection([points], 'NonZero'), high - low).translate([0, 0, low]);
}

function subtract(s) {
  let body = Manifold.extrude(new CrossSection(s.loops, 'EvenOdd'), s.high - s.low).translate([0, 0, s.low]);
  s.ends.forEach(([z, sx, sy], end) => {
    const n = end ? [sx, sy, -1] : [-sx, -sy, 1];
    const len = Math.hypot(...n);
    body = body.trimByPlane(n.map((v) => v / len), (end ? -z : z) / len);
  });
  for (const t of s.tools) {
    // The y axis is met by turning z onto -y.
    let p = t.axis === 1 ? prism(t.points, -t.high, -t.low) : prism(t.points, t.low, t.high);
    if (turns[t.axis]) p = p.transform(turns[t.axis]);
    body = body.subtract(p);
  }
  return body;
}

const count = u32();
for (let i = 0; i < count; i++) {
  const name = text(), mesh = readMesh();
  const out = { name };
  let m;
  try {
    m = new Manifold(new Mesh(mesh));
    const s = m.status();
    out.status = typeof s === 'string' ? s : String(s.value ?? s);
    out.volume = m.volume();
    out.triangles = m.numTri();
    out.genus = m.genus();
  } catch (e) {
    out.status = String(e.message ?? e);
  }
  if (u32()) {
    const shape = readShape();
    const start = performance.now();
    const r = subtract(shape);
    out.subtracted = r.volume();
    out.ms = performance.now() - start;
    r.delete?.();
  }
  m?.delete?.();
  console.log(JSON.stringify(out));
}
