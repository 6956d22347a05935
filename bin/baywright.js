#!/usr/bin/env node
const path = require('node:path');

let main;
try {
  ({ main } = require(path.join(__dirname, '../dist/bundle/start.cjs')).bundled('main'));
} catch (error) {
  const [why] = String(error.message).split('\n');
  process.stderr.write(
    `baywright: this copy is not built yet, or not whole (${why}). Run \`npm run build\` in its folder, or install it again.\n`,
  );
  process.exit(2);
}
main(process.argv.slice(2)).then((status) => {
  process.exitCode = status;
});
