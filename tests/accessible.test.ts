// The paper for those who do not see it: what ISO 14289-1 (PDF/UA-1) asks of a file and a program can check, after the
// checkpoints of the Matterhorn Protocol 1.1 (numbers in brackets). What needs a person's judgement is not claimed here.
import { execFileSync, spawnSync } from 'node:child_process';
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { projectFolder } from './helpers/shop.js';

const qpdf = spawnSync('qpdf', ['--version']).error === undefined;
if (!qpdf) console.warn('SKIPPED: qpdf is not installed; the structure of the paper is not read back.');

const out = fs.mkdtempSync(path.join(os.tmpdir(), 'baywright-accessible-'));
afterAll(() => fs.rmSync(out, { recursive: true, force: true }));

type Value = string | number | boolean | null | Value[] | { [key: string]: Value };
type Dictionary = { [key: string]: Value };

/** All objects of a file, references resolved on demand. */
class File {
  private readonly objects: { [key: string]: { value?: Value; stream?: { dict: Dictionary } } };
  readonly text: string;
  constructor(file: string) {
    const json = execFileSync('qpdf', ['--json=2', '--json-stream-data=none', file], { encoding: 'utf8', maxBuffer: 1e9 });
    this.objects = JSON.parse(json).qpdf[1];
    this.text = execFileSync('qpdf', ['--qdf', '--object-streams=disable', file, '-'], { encoding: 'latin1', maxBuffer: 1e9 });
  }
  get(value: Value | undefined): Value {
    if (typeof value === 'string' && /^\d+ \d+ R$/.test(value)) {
      const found = this.objects[`obj:${value}`];
      return found?.value ?? found?.stream?.dict ?? null;
    }
    return value ?? null;
  }
  dictionary(value: Value | undefined): Dictionary {
    const found = this.get(value);
    return typeof found === 'object' && found !== null && !Array.isArray(found) ? found : {};
  }
  get trailer(): Dictionary {
    return (this.objects.trailer?.value ?? {}) as Dictionary;
  }
  get catalog(): Dictionary {
    return this.dictionary(this.trailer['/Root']);
  }
  all(type: string): Dictionary[] {
    return Object.values(this.objects).flatMap((one) => {
      const value = one.value ?? one.stream?.dict;
      return typeof value === 'object' && value !== null && !Array.isArray(value) && value['/Type'] === type ? [value] : [];
    });
  }
}

interface Node {
  readonly type: string;
  readonly node: Dictionary;
  readonly children: readonly Node[];
  readonly parent: string | null;
}

function tree(file: File, value: Value | undefined, parent: string | null): Node[] {
  const found = file.get(value);
  if (Array.isArray(found)) return found.flatMap((one) => tree(file, one, parent));
  const node = file.dictionary(value);
  if (typeof node['/S'] !== 'string') return [];
  const type = node['/S'];
  return [{ type, node, parent, children: tree(file, node['/K'], type) }];
}
const flat = (nodes: readonly Node[]): Node[] => nodes.flatMap((one) => [one, ...flat(one.children)]);

const papers = ['bay-sheet', 'torque-card', 'fluids-sheet', 'tool-list', 'parts-list', 'quote'];

describe.skipIf(!qpdf)('the paper of a job', () => {
  const files = new Map<string, File>();
  beforeAll(() => {
    const built = spawnSync(process.execPath, [path.join(projectFolder, 'bin/baywright.js'), 'build', '2041-head-gasket', '--out', out], {
      cwd: path.join(projectFolder, 'examples'),
      encoding: 'utf8',
    });
    expect(built.status, built.stderr).toBe(0);
    for (const paper of papers) files.set(paper, new File(path.join(out, `2041-head-gasket/${paper}.pdf`)));
  });

  it.each(papers)('%s says that it is tagged, its language, its title, and what it claims (06, 07, 11)', (paper) => {
    const file = files.get(paper);
    if (!file) throw new Error('not built');
    const { catalog } = file;
    expect(file.dictionary(catalog['/MarkInfo'])['/Marked']).toBe(true);
    expect(catalog['/Lang']).toMatch(/en-GB$/);
    expect(file.dictionary(catalog['/ViewerPreferences'])['/DisplayDocTitle']).toBe(true);
    expect(file.text).toMatch(/<pdfuaid:part>1<\/pdfuaid:part>/);
    expect(file.text).toMatch(/<dc:title>[\s\S]*job 2041/);
  });

  it.each(papers)('%s embeds every font that it uses, with its map to characters (31)', (paper) => {
    const fonts = files.get(paper)?.all('/Font') ?? [];
    expect(fonts.length).toBeGreaterThan(0);
    for (const font of fonts) {
      if (font['/Subtype'] === '/Type0') expect(font['/ToUnicode']).toBeTruthy();
      else {
        const descriptor = files.get(paper)?.dictionary(font['/FontDescriptor']) ?? {};
        expect(descriptor['/FontFile2'] ?? descriptor['/FontFile3'], JSON.stringify(font['/BaseFont'])).toBeTruthy();
      }
    }
  });

  it.each(papers)('%s has nothing drawn that is neither tagged nor an artifact (01)', (paper) => {
    const streams = [...(files.get(paper)?.text ?? '').matchAll(/stream\n([\s\S]*?)\nendstream/g)]
      .map((match) => match[1] ?? '')
      .filter((one) => /\bBDC\b/.test(one));
    expect(streams.length).toBeGreaterThan(0);
    let painted = 0;
    for (const stream of streams) {
      let depth = 0;
      for (const [operator] of stream.replace(/\([^)]*\)|<[0-9a-f]*>/gi, '').matchAll(/(?<=^|\s)(BDC|BMC|EMC|TJ|Tj|S|f|B)(?=\s|$)/g)) {
        if (operator === 'BDC' || operator === 'BMC') depth++;
        else if (operator === 'EMC') depth--;
        else {
          painted++;
          expect(depth).toBe(1);
        }
      }
      expect(depth).toBe(0);
    }
    expect(painted).toBeGreaterThan(20);
  });

  it.each(papers)('%s begins with its one main heading and skips no level (14)', (paper) => {
    const file = files.get(paper);
    if (!file) throw new Error('not built');
    const nodes = flat(tree(file, file.dictionary(file.catalog['/StructTreeRoot'])['/K'], null));
    const levels = nodes.flatMap((one) => (/^\/H[1-6]$/.test(one.type) ? [Number(one.type.slice(2))] : []));
    expect(levels[0]).toBe(1);
    expect(levels.filter((level) => level === 1)).toHaveLength(1);
    for (const [index, level] of levels.entries()) expect(level - (levels[index - 1] ?? 0)).toBeLessThanOrEqual(1);
  });

  it.each(papers)('%s has whole tables: rows in a table, cells in rows, each head with its scope, all rows as long (15)', (paper) => {
    const file = files.get(paper);
    if (!file) throw new Error('not built');
    const nodes = flat(tree(file, file.dictionary(file.catalog['/StructTreeRoot'])['/K'], null));
    for (const node of nodes) {
      if (node.type === '/TR') expect(node.parent).toBe('/Table');
      if (node.type === '/TH' || node.type === '/TD') expect(node.parent).toBe('/TR');
      if (node.type === '/TH') expect(file.dictionary(node.node['/A'])).toMatchObject({ '/O': '/Table', '/Scope': '/Column' });
      if (node.type === '/Table') {
        const lengths = new Set(node.children.map((row) => row.children.length));
        expect(lengths.size, 'rows of different length').toBe(1);
        expect(node.children[0]?.children.every((cell) => cell.type === '/TH')).toBe(true);
      }
    }
    if (paper !== 'torque-card') expect(nodes.some((node) => node.type === '/Table')).toBe(true);
  });

  it('figures say what they show; maps name the order of tightening (13)', () => {
    const file = files.get('bay-sheet');
    if (!file) throw new Error('not built');
    const figures = flat(tree(file, file.dictionary(file.catalog['/StructTreeRoot'])['/K'], null)).filter((one) => one.type === '/Figure');
    expect(figures.length).toBeGreaterThan(10);
    for (const { node } of figures) {
      expect(node['/Alt']).toMatch(/^u:.{20,}/);
      expect(file.dictionary(node['/A'])['/BBox']).toHaveLength(4);
    }
    expect(figures.map(({ node }) => node['/Alt'])).toContainEqual(
      expect.stringMatching(/cylinder-head bolts, seen as you face it\. Order .*: \d+, \d+/),
    );
  });

  it('the sheet has an outline of its parts', () => {
    const text = files.get('bay-sheet')?.text ?? '';
    const titles = [...text.matchAll(/\/Title \(([^)]*)\)/g)].map((match) => match[1]);
    expect(titles).toEqual(expect.arrayContaining(['Preparations', 'The work', 'Close-up', 'Finals', 'Closing the ledger']));
  });
});
