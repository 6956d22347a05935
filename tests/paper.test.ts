// The paper as its readers get it: codes read back from the picture, structure, attachment, and what stands where.
import { spawnSync } from 'node:child_process';
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import * as jsqr from 'jsqr';
import { PNG } from 'pngjs';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { codeText } from '../src/layout/qr.js';
import { compiled, demoTexts, libraryOf, projectFolder } from './helpers/shop.js';

/** The decoder; its types and its module disagree on where it stands. */
const decode = (
  (jsqr as unknown as { default: unknown }).default instanceof Function
    ? (jsqr as unknown as { default: unknown }).default
    : (jsqr as unknown as { default: { default: unknown } }).default.default
) as (data: Uint8ClampedArray, width: number, height: number) => { data: string } | null;
const out = fs.mkdtempSync(path.join(os.tmpdir(), 'baywright-paper-'));
afterAll(() => fs.rmSync(out, { recursive: true, force: true }));
const poppler = spawnSync('pdftoppm', ['-v']).error === undefined;
if (!poppler) console.warn('SKIPPED: poppler-utils is not installed; pages are not read back as pictures.');
const sheet = path.join(out, '2042-hub-bearing/bay-sheet.pdf');
const poppled = (tool: string, args: string[]) => spawnSync(tool, args, { encoding: 'utf8' }).stdout;

describe.skipIf(!poppler)('the bay sheet', () => {
  beforeAll(() => {
    const built = spawnSync(process.execPath, [path.join(projectFolder, 'bin/baywright.js'), 'build', '2042-hub-bearing', '--out', out], {
      cwd: path.join(projectFolder, 'examples'),
      encoding: 'utf8',
    });
    expect(built.status, built.stderr).toBe(0);
  });

  it('has a code on each page that a decoder reads: job, page, digest', () => {
    const job = compiled(libraryOf(demoTexts()), '2042-hub-bearing');
    spawnSync('pdftoppm', ['-r', '250', '-png', sheet, path.join(out, 'page')]);
    const pages = fs
      .readdirSync(out)
      .filter((name) => name.endsWith('.png'))
      .sort();
    expect(pages.length).toBeGreaterThan(4);
    for (const [index, name] of pages.entries()) {
      const picture = PNG.sync.read(fs.readFileSync(path.join(out, name)));
      const height = Math.round(picture.height * 0.07);
      const foot = new PNG({ width: Math.round(picture.width / 3), height });
      PNG.bitblt(picture, foot, 0, picture.height - height, foot.width, height, 0, 0);
      expect(decode(new Uint8ClampedArray(foot.data), foot.width, foot.height)?.data, name).toBe(codeText(job, index + 1, pages.length));
    }
  });

  it('is tagged, has a language and a title, and reads in order', () => {
    expect(poppled('pdfinfo', [sheet])).toMatch(/Title: +Bay sheet, job 2042[\s\S]*Tagged: +yes/);
    const structure = poppled('pdfinfo', ['-struct-text', sheet]);
    expect(structure).toMatch(/H2 \(block\)\s+"What can hurt/);
    const order = ['Raise vehicle', 'Remove front left wheel', 'Renew hub bearing', 'Tighten axle nut', 'Closing the ledger'].map((words) =>
      structure.indexOf(words),
    );
    expect(order.every((at) => at > 0)).toBe(true);
    expect(order).toEqual([...order].sort((a, b) => a - b));
  });

  it('carries the compiled job; the quote, which goes to the customer, does not', () => {
    expect(poppled('pdfdetach', ['-list', sheet])).toMatch(/1 embedded files[\s\S]*job\.json/);
    spawnSync('pdfdetach', ['-save', '1', '-o', path.join(out, 'carried.json'), sheet]);
    expect(fs.readFileSync(path.join(out, 'carried.json'))).toEqual(fs.readFileSync(path.join(out, '2042-hub-bearing/job.json')));
    expect(poppled('pdfdetach', ['-list', path.join(out, '2042-hub-bearing/quote.pdf')])).toMatch(/0 embedded files/);
  });

  it('for two persons, the schedule says who does what when, and has no row that takes no time', () => {
    const built = spawnSync(process.execPath, [path.join(projectFolder, 'bin/baywright.js'), 'build', '2047-clutch', '--out', out], {
      cwd: path.join(projectFolder, 'examples'),
      encoding: 'utf8',
    });
    expect(built.status, built.stderr).toBe(0);
    const text = poppled('pdftotext', ['-layout', path.join(out, '2047-clutch/bay-sheet.pdf'), '-']);
    const rows = [...text.matchAll(/^ *(\d+:\d\d) to (\d+:\d\d)(?:, by itself to (\d+:\d\d))? .*?((?:A and )?[AB])$/gm)];
    expect(rows.length).toBeGreaterThan(5);
    expect(new Set(rows.map((row) => row[4]))).toEqual(new Set(['A', 'B', 'A and B']));
    for (const [line, from, to, alone] of rows) expect(alone ?? to, line).not.toBe(from);
  });

  it('a hand-over tag says what is open, what must not be done, and what comes next', () => {
    const examples = path.join(projectFolder, 'examples');
    const made = spawnSync(
      process.execPath,
      [path.join(projectFolder, 'bin/baywright.js'), 'build', '2041-head-gasket', '--after', 'covers-out', '--out', out],
      { cwd: examples, encoding: 'utf8' },
    );
    const tag = /hand-over-tag-\d+\.pdf/.exec(made.stdout)?.[0] ?? '';
    const text = poppled('pdftotext', ['-layout', path.join(out, '2041-head-gasket', tag), '-']);
    expect(text).toMatch(
      /STOPPED AFTER STEP \d+[\s\S]*NOT SAFE TO LEAVE[\s\S]*DO NOT[\s\S]*Crank engine[\s\S]*Lower vehicle[\s\S]*Next[\s\S]*Still in there or off: 6[\s\S]*ignition, off, 3 +123[\s\S]*crankshaft locking pin/,
    );
    expect(poppled('pdfinfo', [path.join(out, '2041-head-gasket', tag)])).toMatch(/Pages: +1\b/);
    const wrong = spawnSync(
      process.execPath,
      [path.join(projectFolder, 'bin/baywright.js'), 'build', '2041-head-gasket', '--after', '999', '--out', out],
      { cwd: examples, encoding: 'utf8' },
    );
    expect([wrong.status, wrong.stderr]).toEqual([2, expect.stringMatching(/has no step 999\. Its steps are 1 to \d+/)]);
  });

  it('fluids sheet and tool list stand beside it', () => {
    const fluids = poppled('pdftotext', ['-layout', path.join(out, '2041-head-gasket/fluids-sheet.pdf'), '-']);
    expect(fluids).toMatch(/4\.12 \/ 3\.68/);
    expect(fluids).toMatch(/protects to -37 °C/);
    const tools = poppled('pdftotext', ['-layout', path.join(out, '2041-head-gasket/tool-list.pdf'), '-']);
    expect(tools).toMatch(/D1 +bore covers +4/);
  });
});
