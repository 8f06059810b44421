// Validates glTF files with the Khronos validator.
//
//     node check_glb.cjs FOLDER FILE...
//
// FOLDER holds node_modules with gltf-validator. Prints one JSON object for each file on a line of its own: `file`,
// `errors`, `warnings`, `infos`, `hints` (how many) and `messages`.

const fs = require("fs");
const path = require("path");

const [folder, ...files] = process.argv.slice(2);
const validator = require(path.join(path.resolve(folder), "node_modules", "gltf-validator"));

async function main() {
  for (const file of files) {
    const report = await validator.validateBytes(new Uint8Array(fs.readFileSync(file)));
    const { numErrors, numWarnings, numInfos, numHints, messages } = report.issues;
    console.log(
      JSON.stringify({
        file,
        errors: numErrors,
        warnings: numWarnings,
        infos: numInfos,
        hints: numHints,
        messages: messages.slice(0, 20),
      }),
    );
  }
}

main();
