// The paper read back by other people's tools: qpdf and poppler, where the machine has them (`.ci/run` installs them).
import { spawnSync } from 'node:child_process';
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { projectFolder } from './helpers/shop.js';

const has = (tool: string): boolean => spawnSync(tool, ['--version']).error === undefined;
const present = has('qpdf') && has('pdftotext');
if (!present) console.warn('SKIPPED: qpdf and poppler-utils are not installed; the paper is not read back by them.');

const out = fs.mkdtempSync(path.join(os.tmpdir(), 'baywright-pdf-'));
afterAll(() => fs.rmSync(out, { recursive: true, force: true }));

describe.skipIf(!present)('each PDF of the demo', () => {
  const built = spawnSync(process.execPath, [path.join(projectFolder, 'bin/baywright.js'), 'build', '--out', out], {
    cwd: path.join(projectFolder, 'examples'),
    encoding: 'utf8',
  });
  const pdfs = fs.readdirSync(out, { recursive: true, encoding: 'utf8' }).filter((file) => file.endsWith('.pdf'));

  it('was built', () => {
    expect(built.status, built.stderr).toBe(0);
    expect(pdfs.length).toBeGreaterThanOrEqual(12);
  });
  it('is whole (qpdf --check)', () => {
    for (const file of pdfs) {
      const result = spawnSync('qpdf', ['--check', path.join(out, file)], { encoding: 'utf8' });
      expect(result.status, `${file}: ${result.stdout}${result.stderr}`).toBe(0);
    }
  });
  it('has only embedded fonts (pdffonts)', () => {
    for (const file of pdfs) {
      const rows = spawnSync('pdffonts', [path.join(out, file)], { encoding: 'utf8' })
        .stdout.trim()
        .split('\n')
        .slice(2);
      expect(rows.length, file).toBeGreaterThan(0);
      for (const row of rows) expect(row, file).toMatch(/\byes yes yes\b/);
    }
  });
  it('gives its signs back as text (pdftotext)', () => {
    const text = spawnSync('pdftotext', ['-layout', path.join(out, '2041-head-gasket/bay-sheet.pdf'), '-'], { encoding: 'utf8' }).stdout;
    for (const sign of ['N·m', '°', '×', '¼', '→', '’']) expect(text, sign).toContain(sign);
    expect(text).not.toContain('\ufffd');
  });
});
