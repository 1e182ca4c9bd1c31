// Prints the report of the Khronos glTF validator on a GLB file: node validator.mjs NODE_MODULES FILE
import { createRequire } from "node:module";
import { readFileSync } from "node:fs";
const [folder, file] = process.argv.slice(2);
const validator = createRequire(folder + "/")("gltf-validator");
const report = await validator.validateBytes(new Uint8Array(readFileSync(file)));
console.log(JSON.stringify(report));
