#!/usr/bin/env node
const fs = require('node:fs');
const path = require('node:path');

const bundle = path.join(__dirname, '../dist/bundle/start.cjs');
if (!fs.existsSync(bundle)) {
  process.stderr.write('baywright: this copy is not built yet. Run `npm run build` in its folder, or install it again.\n');
  process.exit(2);
}
require(bundle)
  .bundled('main')
  .main(process.argv.slice(2))
  .then((status) => {
    process.exitCode = status;
  });
