// Judges a GLB file with the Khronos glTF validator and prints what it found as one JSON object:
// node validate.js FILE
// The module is looked for in the folder that BARWRIGHT_NODE_MODULES names, then beside this file.
"use strict";
const fs = require("fs");
const path = require("path");

function load(name) {
  const given = process.env.BARWRIGHT_NODE_MODULES;
  if (given && fs.existsSync(path.join(given, name))) {
    return require(path.join(path.resolve(given), name));
  }
  return require(name);
}

const validator = load("gltf-validator");
const bytes = new Uint8Array(fs.readFileSync(process.argv[2]));
validator
  .validateBytes(bytes, { maxIssues: 50 })
  .then((report) => {
    console.log(JSON.stringify({
      errors: report.issues.numErrors,
      warnings: report.issues.numWarnings,
      infos: report.issues.numInfos,
      messages: report.issues.messages.map((m) => `${m.code} ${m.pointer || ""}: ${m.message}`),
      triangles: report.info.totalTriangleCount,
      drawCalls: report.info.drawCallCount,
      materials: report.info.materialCount,
    }));
  })
  .catch((error) => {
    console.error(String(error));
    process.exit(1);
  });
