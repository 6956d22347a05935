#!/usr/bin/env node
const { main } = require('../dist/bundle/main.cjs');

main(process.argv.slice(2)).then((status) => {
  process.exitCode = status;
});
