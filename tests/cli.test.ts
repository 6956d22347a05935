// The command as its users run it, from the built tool, on real files.
import { spawnSync } from 'node:child_process';
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { getDocument } from 'pdfjs-dist/legacy/build/pdf.mjs';
import { fileURLToPath } from 'node:url';
import { afterAll, describe, expect, it } from 'vitest';
import { parse } from 'yaml';
import { projectFolder } from './helpers/shop.js';

const work = fs.mkdtempSync(path.join(os.tmpdir(), 'baywright-'));
afterAll(() => fs.rmSync(work, { recursive: true, force: true }));

function run(args: string[], cwd = work) {
  const result = spawnSync(process.execPath, [path.join(projectFolder, 'bin/baywright.js'), ...args], { cwd, encoding: 'utf8' });
  expect(result.stderr + result.stdout).not.toMatch(/\n\s+at .*\(.*:\d+:\d+\)/);
  return result;
}

const shopIn = (name: string): string => {
  const folder = path.join(work, name);
  fs.cpSync(path.join(projectFolder, 'examples'), folder, { recursive: true });
  return folder;
};

it('an empty word, as a variable makes that is not set, is never taken for the folder that one is in', () => {
  const shop = shopIn('empty-word');
  for (const args of [
    ['check', ''],
    ['build', '--out', ''],
    ['check', '--write-baseline', ''],
  ]) {
    const { status, stdout, stderr } = run(args, shop);
    expect([status, stdout, stderr]).toEqual([
      2,
      '',
      'baywright: One of the words of this command is empty. Is a variable of a script not set?\n',
    ]);
  }
  expect(fs.readdirSync(shop).sort()).toEqual(
    fs
      .readdirSync(path.join(projectFolder, 'examples'))
      .filter((name) => name !== 'out')
      .sort(),
  );
});

describe('check', () => {
  it('finds the library from any folder inside it', () => {
    const { status, stdout } = run(['check'], path.join(projectFolder, 'examples/procedures'));
    expect(status).toBe(0);
    expect(stdout).toMatch(/\d+ files checked: 0 errors, 0 warnings/);
  });

  it('of files and folders that are named each counts once, also one that is named twice or lies in another; each is mended', () => {
    const shop = shopIn('named');
    const wrong = ['procedures/clutch.yaml', 'procedures/pinion-seal.yaml', 'vehicles/marn-20.yaml'];
    for (const name of wrong) {
      const file = path.join(shop, name);
      fs.writeFileSync(file, fs.readFileSync(file, 'utf8').replace('name:', 'nmae:'));
    }
    const procedures = fs.readdirSync(path.join(shop, 'procedures')).length;
    const counted = (...named: string[]) =>
      /(\d+) files? checked: (\d+) error/
        .exec(run(['check', ...named], shop).stdout)
        ?.slice(1)
        .map(Number);
    expect(counted('procedures/clutch.yaml', 'procedures/clutch.yaml')).toEqual([1, 1]);
    expect(counted('procedures/clutch.yaml', 'procedures', './procedures/')).toEqual([procedures, 2]);
    expect(counted('procedures/clutch.yaml', 'vehicles/marn-20.yaml')).toEqual([2, 2]);
    const folder = path.join(shop, 'nothing');
    fs.mkdirSync(folder);
    expect(run(['check', 'procedures', 'nothing'], shop).stderr).toContain('There is no document to check in');
    expect(run(['check', 'vehicles', 'procedures/clutch.yaml', '--fix'], shop).stderr).toContain('2 mended');
    expect(counted('procedures', 'vehicles')?.[1]).toBe(1);
  });

  it('of a document that is named it tells what is found in looking at it, wherever that stands', () => {
    const shop = shopIn('elsewhere');
    const order = path.join(shop, 'jobs/2047-clutch.yaml');
    fs.writeFileSync(order, fs.readFileSync(order, 'utf8').replace(/^date: .*/m, 'date: "2090-01-01"'));
    fs.writeFileSync(
      path.join(shop, 'jobs/2099-again.yaml'),
      fs.readFileSync(order, 'utf8').replace('2047-clutch', '2099-again').replace('"2047"', '"2099"'),
    );
    const places = (...args: string[]) =>
      JSON.parse(run(['check', ...args, '--format', 'json'], shop).stdout).findings.map((one: { file: string; rule: string }) =>
        [one.file, one.rule].join(' '),
      );
    for (const args of [['--no-cache'], [], []]) {
      const all = places(...args, 'vehicles/marn-20.yaml');
      expect(new Set(all)).toEqual(new Set(['vehicles/marn-20.yaml tool/no-wrench']));
      for (const name of ['2047-clutch', '2099-again']) expect(places(...args, `jobs/${name}.yaml`)).toEqual(all);
      expect(places(...args, 'jobs/2046-timing-belt.yaml', 'procedures')).toEqual([]);
    }
  });

  it('what is told at one of two places, and may as well be wrong at the other, is told of either', () => {
    const shop = shopIn('either');
    fs.copyFileSync(path.join(shop, 'procedures/clutch.yaml'), path.join(shop, 'procedures/zz.yaml'));
    for (const name of ['procedures/clutch.yaml', 'procedures/zz.yaml']) {
      const { status, stdout } = run(['check', name], shop);
      expect([status, stdout.match(/error \S+ \S+/g)]).toEqual([1, ['error procedures/zz.yaml:4:5 reference/double-id']]);
    }
    expect(run(['check', 'procedures/injectors.yaml'], shop).status).toBe(0);
  });

  it('what is no document, and a folder without any, is no clean check: status 2', () => {
    const shop = shopIn('nothing');
    const notes = path.join(shop, 'notes.txt');
    fs.writeFileSync(notes, 'buy milk\n');
    fs.mkdirSync(path.join(shop, 'empty'));
    for (const place of [notes, path.join(shop, 'empty')]) {
      const { status, stdout, stderr } = run(['check', place]);
      expect([status, stdout]).toEqual([2, '']);
      expect(stderr).toContain(`There is no document to check in ${place.replaceAll('\\', '/')}.`);
    }
  });

  it('a file that lies in no library is looked at with those beside it, and nothing below its folder', () => {
    const place = path.join(work, 'alone');
    fs.mkdirSync(path.join(place, 'below'), { recursive: true });
    const text = (id: string, more = '') => `kind: preparation\nid: ${id}\nname: ${id}\n${more}steps:\n  - inspect: leaks\n`;
    const file = path.join(place, 'one.yaml');
    fs.writeFileSync(file, text('one', 'needs: [two, three]\n'));
    fs.writeFileSync(path.join(place, 'two.yaml'), text('two'));
    fs.writeFileSync(path.join(place, 'below/three.yaml'), text('three'));
    for (const more of [['--no-cache'], [], []]) {
      const { status, stdout } = run(['check', file, ...more]);
      expect([status, stdout.match(/There is no preparation `\w+`/g)]).toEqual([1, ['There is no preparation `three`']]);
      expect(stdout).toContain('1 file checked');
    }
    for (const [args, words] of [
      [['check', file, '--watch'], '`--watch` looks at a library'],
      [['check', file, '--shard', '1/2'], '`--shard` looks at a library'],
      [['build', file], 'There is no library here'],
    ] as const)
      expect(run([...args])).toMatchObject({ status: 2, stderr: expect.stringContaining(words) });
    // A folder that somebody names is looked at with all that lies in it.
    expect(run(['check', place]).status).toBe(0);
  });

  it('a baseline never takes the place of another file', () => {
    const shop = shopIn('baseline-place');
    const before = fs.readFileSync(path.join(shop, 'shop.yaml'), 'utf8');
    const { status, stderr } = run(['check', '--write-baseline', 'shop.yaml'], shop);
    expect([status, stderr]).toEqual([2, expect.stringContaining('shop.yaml is there already and is no baseline')]);
    expect(fs.readFileSync(path.join(shop, 'shop.yaml'), 'utf8')).toBe(before);
    for (let time = 0; time < 2; time++) expect(run(['check', '--write-baseline', 'known.json'], shop).status).toBe(0);
  });

  it('without a library: status 2 and what to do', () => {
    const { status, stderr } = run(['check'], os.tmpdir());
    expect(status).toBe(2);
    expect(stderr).toMatch(/no shop\.yaml.*baywright new shop/);
  });

  it('json: the documented form, sorted by place, status 1', () => {
    const shop = shopIn('json');
    const file = path.join(shop, 'procedures/coolant-pump.yaml');
    fs.writeFileSync(file, fs.readFileSync(file, 'utf8').replace('- tighten: pump-bolts', '- tigthen: pump-bolts'));
    const { status, stdout } = run(['check', shop, '--format', 'json']);
    expect(status).toBe(1);
    const report = JSON.parse(stdout);
    expect(report.summary).toMatchObject({ files: expect.any(Number), errors: 1, warnings: 0, infos: 1 });
    expect(report.findings.find((one: { severity: string }) => one.severity === 'error')).toMatchObject({
      rule: 'schema/unknown-key',
      severity: 'error',
      file: 'procedures/coolant-pump.yaml',
      column: 5,
      endColumn: 12,
    });
    expect(report.findings.map((one: { message: string }) => one.message).join()).toMatch(/Did you mean `tighten`/);
  });

  const hostile: [string, string | Buffer][] = [
    ['empty', ''],
    ['tabs', '\tkind: job'],
    ['deep', `a: ${'['.repeat(5000)}`],
    ['bomb', `a: &a [x,x]\nb: &b [*a,*a]\nc: &c [*b,*b]\nd: &d [*c,*c]\ne: &e [*d,*d]\nf: &f [*e,*e]\ng: &g [*f,*f]\nh: [*g,*g]\n`],
    ['utf16', Buffer.from('\ufeffkind: job', 'utf16le')],
    ['latin1', Buffer.from([0x6b, 0xe9, 0x3a])],
    ['proto', '__proto__: {kind: job}\nkind: job\nid: x\n'],
    ['list', '- 1\n- 2\n'],
    ['scalar', '42\n'],
    ['nan', 'kind: job\nid: .nan\n'],
    ['binary', Buffer.from([0, 1, 2, 255])],
    ['escape', 'kind: job\nid: ../../x\ndate: "2026-01-01"\nvehicle: tarrock-35\nwork: [head-gasket]\n'],
  ];
  it.each(hostile)('hostile file %s: a finding, status 1, no stack trace', (name, content) => {
    const shop = path.join(work, `hostile-${name}`);
    fs.mkdirSync(shop);
    fs.writeFileSync(path.join(shop, 'shop.yaml'), 'kind: shop\nid: s\nname: S\ncurrency: EUR\nrates: { m: 1.00 }\ntaxes: { t: 20 % }\n');
    fs.writeFileSync(path.join(shop, 'x.yaml'), content);
    const { status, stdout } = run(['check', shop, '--format', 'json']);
    expect(status).toBe(1);
    expect(JSON.parse(stdout).findings.some((finding: { file: string }) => finding.file === 'x.yaml')).toBe(true);
  });
});

describe('build', () => {
  it('refuses a job with errors, keeps the last good paper, and marks a draft on every page', async () => {
    const shop = shopIn('build');
    const out = path.join(work, 'paper');
    expect(run(['build', '2042-hub-bearing', '--out', out], shop).status).toBe(0);
    const sheet = path.join(out, '2042-hub-bearing/bay-sheet.pdf');
    const good = fs.readFileSync(sheet);
    const file = path.join(shop, 'procedures/hub-bearing.yaml');
    fs.writeFileSync(file, fs.readFileSync(file, 'utf8').replace('  - fit: drive-shaft\n', ''));
    const refused = run(['build', '2042-hub-bearing', '--out', out], shop);
    expect(refused.status).toBe(1);
    expect(refused.stderr).toMatch(/drive-shaft.*is removed here and never fitted again/s);
    expect(fs.readFileSync(sheet).equals(good)).toBe(true);
    expect(run(['build', '2042-hub-bearing', '--out', out, '--draft'], shop).status).toBe(0);
    for (const page of await textOf(sheet)) expect(page).toMatch(/DRAFT/);
    expect(fs.readdirSync(out)).toEqual(['2042-hub-bearing']);
  });

  const clutch = fs.readFileSync(path.join(projectFolder, 'examples/procedures/clutch.yaml'), 'utf8');
  const asPreparation = 'kind: preparation\nid: clutch\nname: Clutch\nsteps:\n  - inspect: leaks\n';
  const starterBolts = (torque: string) => `kind: procedure
id: starter
name: Starter
for: marn-20
fasteners:
  starter-bolts: { count: 2, thread: M10x1.5x50, class: "8.8", drive: 16 AF, reuse: always, threads: dry, stages: [{ torque: ${torque} }] }
steps:
  - inspect: leaks
`;
  it.each([
    ['a file of the same id before it', 'aa.yaml', clutch, true],
    ['a file of the same id behind it', 'zz.yaml', clutch, true],
    ['a preparation of its id before it', 'aa.yaml', asPreparation, true],
    ['a preparation of its id behind it', 'zz.yaml', asPreparation, true],
    ['another torque for a joint of its vehicle, in a procedure that it does not use', 'zz.yaml', starterBolts('25 N·m'), true],
    ['the same torque for it', 'zz.yaml', starterBolts('40 N·m'), false],
  ])('where nobody knows which of two is right, what uses one of them waits, and nothing else: %s', (what, file, text, waits) => {
    const shop = shopIn(`which-${what}`);
    const out = path.join(work, `out-${what}`);
    fs.writeFileSync(path.join(shop, 'procedures', file), text);
    expect(run(['check'], shop).status).toBe(1);
    for (const from of ['reading', 'what was kept']) {
      const { status, stderr } = run(['build', '2042-hub-bearing', '2047-clutch', '--out', out], shop);
      expect(status, `${from}: ${stderr}`).toBe(waits ? 1 : 0);
      expect(/reference\/double-id|torque\/two-values/.test(stderr)).toBe(waits);
      expect(fs.readdirSync(out).sort()).toEqual(waits ? ['2042-hub-bearing'] : ['2042-hub-bearing', '2047-clutch']);
    }
  });

  it('a job order whose id another has already is not taken for the other', () => {
    const shop = shopIn('second-order');
    const order = path.join(shop, 'jobs/2047-clutch.yaml');
    fs.copyFileSync(order, path.join(shop, 'jobs/zz.yaml'));
    const out = path.join(work, 'out-second');
    for (const [name, status, says] of [
      ['jobs/zz.yaml', 2, 'jobs/zz.yaml has the id of another job order, `2047-clutch`. Give one of the two another id, or delete it.'],
      ['2047-clutch', 1, 'There is a job order `2047-clutch` already'],
    ] as const) {
      const built = run(['build', name, '--out', out], shop);
      expect([built.status, built.stdout]).toEqual([status, '']);
      expect(built.stderr).toContain(says);
    }
    expect(fs.existsSync(out)).toBe(false);
  });

  it('says what was allowed and leaves nothing to plan', () => {
    const shop = shopIn('allowed');
    const file = path.join(shop, 'jobs/2047-clutch.yaml');
    const allowed = '# baywright: allow reference/unknown-vehicle — its profile comes next week\nvehicle: marn-30';
    fs.writeFileSync(file, fs.readFileSync(file, 'utf8').replace(/^vehicle: .*$/m, allowed));
    expect(run(['check'], shop).status).toBe(0);
    const { status, stderr } = run(['build', '2047'], shop);
    expect(status).toBe(1);
    expect(stderr.replace(/\s+/g, ' ')).toContain(
      'There is no vehicle profile `marn-30`. Did you mean `marn-20`? This was allowed, but the job cannot be planned.',
    );
    expect(stderr).toContain('2047-clutch is not printed: errors stop paper.');
  });

  it('what one job lacks stops that one alone, wherever it stands, and whatever else is printed', () => {
    const shop = shopIn('lacks');
    const other = fs.readFileSync(path.join(shop, 'jobs/2047-clutch.yaml'), 'utf8');
    const look = 'kind: procedure\nid: look\nname: Look\nfor: marn-20\nsteps:\n  - inspect: leaks\n';
    fs.writeFileSync(path.join(shop, 'procedures/look.yaml'), look);
    fs.writeFileSync(
      path.join(shop, 'jobs/2099-look.yaml'),
      other.replaceAll('2047-clutch', '2099-look').replace('"2047"', '"2099"').replace('work: [clutch]', 'work: [look]'),
    );
    const parts = path.join(shop, 'parts/marn.yaml');
    fs.writeFileSync(parts, fs.readFileSync(parts, 'utf8').replace('contains: { driveshaft-bolt:', 'contains: { flywheel-bolt:'));
    const out = path.join(work, 'out-lacks');
    const { status, stderr } = run(['build', '2047-clutch', '2099-look', '--out', out], shop);
    expect(status).toBe(1);
    expect(stderr).toMatch(/vehicles\/marn-20\.yaml:\d+:\d+ parts\/no-offer/);
    expect(fs.readdirSync(out)).toEqual(['2099-look']);
  });

  it('takes ids, files and folders together, and makes each job once', () => {
    const shop = shopIn('together');
    fs.mkdirSync(path.join(shop, 'jobs/today'));
    for (const name of ['2043-gearbox-fluid', '2044-pinion-seal'])
      fs.renameSync(path.join(shop, `jobs/${name}.yaml`), path.join(shop, `jobs/today/${name}.yaml`));
    const out = path.join(work, 'out-together');
    const { status, stdout } = run(
      ['build', 'jobs/today', '2042-hub-bearing', 'jobs/2042-hub-bearing.yaml', '2043-gearbox-fluid', '--out', out],
      shop,
    );
    expect(status).toBe(0);
    expect(stdout.match(/bay-sheet\.pdf/g)).toHaveLength(3);
    expect(fs.readdirSync(out).sort()).toEqual(['2042-hub-bearing', '2043-gearbox-fluid', '2044-pinion-seal']);
    fs.mkdirSync(path.join(shop, 'jobs/none'));
    expect(run(['build', '2042-hub-bearing', 'jobs/none', '--out', out], shop)).toMatchObject({
      status: 2,
      stderr: expect.stringContaining('There is no job order in'),
    });
  });

  it('takes the number on the paper too, where it is that of one job', () => {
    const shop = shopIn('numbers');
    const out = path.join(work, 'out-numbers');
    // What is kept of it is kept for the number.
    for (const time of ['first', 'again'])
      expect(run(['build', '2043', '--paper', 'quote', '--out', out], shop), time).toMatchObject({
        status: 0,
        stdout: expect.stringContaining('2043-gearbox-fluid/quote.pdf'),
      });
    expect(run(['explain', '2043', '--value', 'quote/gross'], shop)).toMatchObject({
      status: 0,
      stdout: expect.stringContaining('quote/gross ='),
    });
    const other = path.join(shop, 'jobs/2044-pinion-seal.yaml');
    fs.writeFileSync(other, fs.readFileSync(other, 'utf8').replace('number: "2044"', 'number: "2043"'));
    expect(run(['build', '2043', '--out', out], shop)).toMatchObject({
      status: 2,
      stderr: expect.stringContaining(
        'Several jobs have the number 2043: `2043-gearbox-fluid` and `2044-pinion-seal`. Name one by its id.',
      ),
    });
    expect(run(['check', other], shop).stdout).toMatch(/jobs\/2044-pinion-seal\.yaml:\d+:\d+ job\/double-number/);
  });

  it('the same input gives the same bytes; text reads back with its signs', async () => {
    const [a, b] = ['a', 'b'].map((name) => path.join(work, name));
    for (const out of [a ?? '', b ?? ''])
      expect(run(['build', '2041-head-gasket', '--out', out], path.join(projectFolder, 'examples')).status).toBe(0);
    for (const name of ['bay-sheet.pdf', 'torque-card.pdf', 'parts-list.pdf', 'parts-list.csv', 'quote.pdf', 'job.json']) {
      expect(
        fs.readFileSync(path.join(a ?? '', '2041-head-gasket', name)).equals(fs.readFileSync(path.join(b ?? '', '2041-head-gasket', name))),
        name,
      ).toBe(true);
    }
    const text = (await textOf(path.join(a ?? '', '2041-head-gasket/bay-sheet.pdf'))).join('\n');
    for (const words of [
      '60 N·m',
      '+90°',
      'SET 8.72 N·m',
      '4.12 L concentrate + 3.68 L water',
      'H-01',
      '47 opened, 47 closed',
      'at 184415 km',
    ])
      expect(text).toContain(words);
    const card = await textOf(path.join(a ?? '', '2041-head-gasket/torque-card.pdf'));
    expect(card).toHaveLength(1);
    expect((await textOf(path.join(a ?? '', '2041-head-gasket/quote.pdf'))).join()).toContain('2,073.46');
  });

  it('what this user may not see is not said to be missing', () => {
    const preload = path.join(work, 'denied.cjs');
    fs.writeFileSync(
      preload,
      `const fs = require('node:fs');
for (const name of ['statSync', 'lstatSync']) {
  const own = fs[name];
  fs[name] = (file, ...more) => {
    if (String(file).includes('locked')) throw Object.assign(new Error('denied'), { code: 'EACCES' });
    return own(file, ...more);
  };
}
`,
    );
    const shop = shopIn('seen');
    for (const args of [
      ['check', 'locked/a.yaml'],
      ['build', 'locked/jobs/a.yaml'],
      ['explain', 'locked/jobs/a.yaml', '--value'],
    ]) {
      const { status, stderr } = spawnSync(process.execPath, ['-r', preload, path.join(projectFolder, 'bin/baywright.js'), ...args], {
        cwd: shop,
        encoding: 'utf8',
      });
      expect([status, stderr]).toEqual([2, `baywright: ${args[1]} cannot be looked at: permission is denied.\n`]);
    }
    expect(run(['check', 'unlocked.yaml'], shop)).toMatchObject({ status: 2, stderr: 'baywright: unlocked.yaml does not exist.\n' });
  });

  it('an unknown job is answered with the nearest', () => {
    const { status, stderr } = run(['build', '2041-head-gaskte'], path.join(projectFolder, 'examples'));
    expect(status).toBe(2);
    expect(stderr).toMatch(/Did you mean `2041-head-gasket`/);
  });
});

describe('new and explain', () => {
  it('writes a shop, a vehicle, a procedure, a preparation, a catalogue and a job in which only what is to be written is found, and never overwrites', () => {
    const shop = path.join(work, 'fresh');
    fs.mkdirSync(shop);
    for (const [kind, id] of [
      ['shop', 'our-shop'],
      ['vehicle', 'van'],
      ['procedure', 'look'],
      ['preparation', 'opened'],
      ['parts', 'stock'],
      ['job', 'first'],
    ] as const)
      expect(run(['new', kind, id], shop).status).toBe(0);
    const foundNow = (): string[] => {
      const { status, stdout } = run(['check', '--format', 'json'], shop);
      expect(status).toBe(0);
      return JSON.parse(stdout).findings.map(({ rule, file }: { rule: string; file: string }) => `${rule} ${file}`);
    };
    expect(foundNow()).toEqual([
      'paper/unfinished jobs/first.yaml',
      'paper/unfinished procedures/look.yaml',
      'paper/unfinished procedures/look.yaml',
      'paper/unfinished procedures/opened.yaml',
      ...Array(4).fill('paper/unfinished vehicles/van.yaml'),
    ]);
    // Elsewhere by the full path, in a folder beside the tool by the way to it.
    const leadsTo = (file: string) => {
      const [, line = ''] = /^# yaml-language-server: \$schema=(\S+)\n/.exec(fs.readFileSync(file, 'utf8')) ?? [];
      return line.startsWith('file:') ? fileURLToPath(line) : path.resolve(path.dirname(file), line);
    };
    for (const [file, kind] of [
      ['shop.yaml', 'shop'],
      ['vehicles/van.yaml', 'vehicle'],
    ] as const)
      expect(leadsTo(path.join(shop, file))).toBe(path.join(projectFolder, `schemas/${kind}.schema.json`));
    // Names that are a number, a state or a day to a reader of YAML are written in quotes, and clean too.
    for (const id of ['301', '007', '1e5', '0x10', 'true', 'null', 'y', '2026-11-30', '2042-x'])
      for (const kind of ['vehicle', 'job']) expect(run(['new', kind, id], shop).status).toBe(0);
    expect(new Set(foundNow().map((one) => one.split(' ')[0]))).toEqual(new Set(['paper/unfinished']));
    const job = fs.readFileSync(path.join(shop, 'jobs/2042-x.yaml'), 'utf8');
    expect(job).toContain('\nid: 2042-x\nnumber: "2042"\n');
    expect(run(['new', 'job', 'another'], shop).status).toBe(0);
    expect(fs.readFileSync(path.join(shop, 'jobs/another.yaml'), 'utf8')).toContain('\nid: another\nnumber: "2043"\n');
    for (const id of ['007', '2026-11-30'])
      expect(parse(fs.readFileSync(path.join(shop, `vehicles/${id}.yaml`), 'utf8'), { version: '1.1' })).toMatchObject({ id });
    expect(run(['new', 'vehicle', 'van'], shop)).toMatchObject({ status: 2 });
    expect(run(['new', 'vehicle', '../x'], shop)).toMatchObject({ status: 2 });
    expect(run(['new', 'vehicle', 'nul'], shop)).toMatchObject({ status: 2, stderr: expect.stringContaining('Windows') });
  });

  it('copies a preparation that ships with the tool, in the language of the shop', () => {
    const shop = path.join(work, 'copies');
    fs.mkdirSync(shop);
    fs.copyFileSync(path.join(projectFolder, 'examples/shop.yaml'), path.join(shop, 'shop.yaml'));
    const copied = (id: string) => {
      const { status, stderr } = run(['new', 'preparation', id], shop);
      expect({ status, stderr }).toEqual({ status: 0, stderr: expect.stringContaining('A copy of what ships with the tool') });
      return fs
        .readFileSync(path.join(shop, `procedures/${id}.yaml`), 'utf8')
        .split('\n')
        .slice(1);
    };
    const shipped = (name: string) =>
      fs
        .readFileSync(path.join(projectFolder, 'procedures', `${name}.yaml`), 'utf8')
        .split('\n')
        .slice(1);
    expect(copied('engine-cold')).toEqual(shipped('engine-cold'));
    fs.appendFileSync(path.join(shop, 'shop.yaml'), 'language: de\n');
    expect(copied('wheels-off')).toEqual(shipped('de/wheels-off'));
    expect(run(['new', 'preparation', 'wheels-off'], shop).status).toBe(2);
    expect(run(['new', 'procedure', 'battery-isolated'], shop)).toMatchObject({ status: 0, stderr: '' });
  });

  it('explains one number of a job: formula, inputs with their places, result, rounding', () => {
    const examples = path.join(projectFolder, 'examples');
    const { status, stdout } = run(['explain', 'jobs/2041-head-gasket.yaml', '--value', 'fluids/coolant/mix/concentrate'], examples);
    expect(status).toBe(0);
    expect(stdout).toMatch(/Formula: .*C · c_t.*Inputs:.*9\.6 L {2}\(vehicles\/tarrock-35\.yaml:\d+\).*Result: .*4\.116 L.*Rounding:/s);
    expect(run(['explain', '2041-head-gasket', '--value', 'quote.gross'], examples).stdout).toMatch(/^quote\/gross = 2073\.46/);
    expect(run(['explain', '2041-head-gasket', '--value', 'quote/gros'], examples)).toMatchObject({
      status: 2,
      stderr: expect.stringMatching(/Did you mean `quote\/gross`/),
    });
    expect(run(['explain', '--value'], examples)).toMatchObject({ status: 2, stderr: expect.stringMatching(/Name the job/) });
    expect(run(['explain', '2041-head-gasket', '--value'], examples).stdout).toMatch(/labour\/billed +11\.85 h/);
  });

  it('explains a rule, and names the nearest', () => {
    expect(run(['explain', 'ledger/left-open']).stdout).toMatch(/Finds:.*Why:.*To mend:/s);
    expect(run(['explain', 'ledger/left-opne']).stderr).toMatch(/Did you mean `ledger\/left-open`/);
  });
});

async function textOf(file: string): Promise<string[]> {
  const document = await getDocument({ data: new Uint8Array(fs.readFileSync(file)), verbosity: 0 }).promise;
  const pages: string[] = [];
  for (let n = 1; n <= document.numPages; n++) {
    const content = await (await document.getPage(n)).getTextContent();
    pages.push(
      content.items
        .map((item) => ('str' in item ? item.str : ''))
        .join(' ')
        .replace(/\u00a0/g, ' '),
    );
  }
  return pages;
}
