// Makes a release ready and says what is left to do by hand: nothing is published from here.
import { execFileSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import { setup } from './setup.mjs';

const root = path.resolve(path.dirname(fileURLToPath(import.meta.url)), '../..');
const npm = process.platform === 'win32' ? 'npm.cmd' : 'npm';
const run = (command, args, cwd = root) => execFileSync(command, args, { cwd, encoding: 'utf8' });
const stop = (why) => {
  console.error(why);
  process.exit(1);
};

setup();
const { version } = JSON.parse(fs.readFileSync(path.join(root, 'package.json'), 'utf8'));
if (run('git', ['status', '--porcelain']).trim() !== '') stop('There are changes that are not committed. Commit them first.');
if (!fs.readFileSync(path.join(root, 'CHANGELOG.md'), 'utf8').includes(`## ${version}`))
  stop(`CHANGELOG.md says nothing of ${version}. Write what has changed, or raise the version.`);
if (run('git', ['tag', '--list', `v${version}`]).trim() !== '')
  stop(`There is a tag v${version} already. Raise the version in package.json.`);

// Built and packed twice, the package must be the same to the byte.
const sums = ['a', 'b'].map(() => {
  const place = fs.mkdtempSync(path.join(os.tmpdir(), 'baywright-release-'));
  const [{ filename, files }] = JSON.parse(run(npm, ['pack', '--json', '--pack-destination', place]));
  const file = path.join(place, filename);
  return { file, files, sum: createHash('sha512').update(fs.readFileSync(file)).digest('hex') };
});
if (sums[0].sum !== sums[1].sum) stop('Two builds of the same sources differ. Find out why before anything is published.');
for (const { path: name, size } of sums[0].files) console.log(`${String(size).padStart(9)}  ${name}`);
console.log(`\n${sums[0].file}\nsha512 ${sums[0].sum}\n`);
console.log('The same from two builds. Now run the whole of CI on this commit, then, from a CI job that may sign:');
console.log(`  git tag v${version} && git push --tags`);
console.log(`  npm publish ${sums[0].file} --provenance --access public`);
