// Key pages against pictures that somebody looked at. `PICTURES=write npm test` takes new ones, to be looked at again.
import { spawnSync } from 'node:child_process';
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import pixelmatch from 'pixelmatch';
import { PNG } from 'pngjs';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { projectFolder } from './helpers/shop.js';

const poppler = spawnSync('pdftoppm', ['-v']).error === undefined;
if (!poppler) console.warn('SKIPPED: poppler-utils is not installed; key pages are not compared as pictures.');

const out = fs.mkdtempSync(path.join(os.tmpdir(), 'baywright-pictures-'));
afterAll(() => fs.rmSync(out, { recursive: true, force: true }));
const pictures = path.join(projectFolder, 'tests/pictures');
/** Renderers differ in a few grey pixels at edges; a line that moved changes far more. */
const mostDifferent = 0.002;

function hide(picture: PNG, x: number, y: number, width: number, height: number): void {
  for (let row = y; row < y + height; row++) picture.data.fill(255, (row * picture.width + x) * 4, (row * picture.width + x + width) * 4);
}

describe.skipIf(!poppler)('key pages look as they did', () => {
  beforeAll(() => {
    const built = spawnSync(
      process.execPath,
      [path.join(projectFolder, 'bin/baywright.js'), 'build', '2041-head-gasket', '2047-clutch', '2049-receiver', '--out', out],
      { cwd: path.join(projectFolder, 'examples'), encoding: 'utf8' },
    );
    expect(built.status, built.stderr).toBe(0);
  });

  it.each([
    ['2041-head-gasket', 'bay-sheet', 1],
    ['2041-head-gasket', 'bay-sheet', 4],
    ['2041-head-gasket', 'bay-sheet', 13],
    ['2041-head-gasket', 'torque-card', 1],
    ['2041-head-gasket', 'quote', 1],
    ['2047-clutch', 'torque-card', 1],
    ['2049-receiver', 'fluids-sheet', 1],
  ])('%s %s, page %i', (job, paper, page) => {
    const name = `${job}-${paper}-${page}.png`;
    const made = path.join(out, name);
    const pdf = path.join(out, job, `${paper}.pdf`);
    spawnSync('pdftoppm', [
      '-r',
      '60',
      '-gray',
      '-png',
      '-singlefile',
      '-f',
      String(page),
      '-l',
      String(page),
      pdf,
      made.replace('.png', ''),
    ]);
    const kept = path.join(pictures, name);
    if (process.env.PICTURES === 'write') {
      fs.mkdirSync(pictures, { recursive: true });
      fs.copyFileSync(made, kept);
    }
    const now = PNG.sync.read(fs.readFileSync(made));
    const then = PNG.sync.read(fs.readFileSync(kept));
    expect([now.width, now.height]).toEqual([then.width, then.height]);
    // The digest and its code change with every word of the job.
    for (const picture of [now, then]) hide(picture, 0, picture.height - 45, 230, 45);
    const different = pixelmatch(now.data, then.data, undefined, now.width, now.height, { threshold: 0.25 });
    expect(different / (now.width * now.height), `${name} has changed; look at it, then PICTURES=write`).toBeLessThan(mostDifferent);
  });
});
