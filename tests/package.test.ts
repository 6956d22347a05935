// What is published, and what it brings along.
import { execFileSync, spawnSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { afterAll, expect, it } from 'vitest';
import { projectFolder } from './helpers/shop.js';

const place = fs.mkdtempSync(path.join(os.tmpdir(), 'baywright-package-'));
afterAll(() => fs.rmSync(place, { recursive: true, force: true }));
const npm = process.platform === 'win32' ? 'npm.cmd' : 'npm';
const manifest = JSON.parse(fs.readFileSync(path.join(projectFolder, 'package.json'), 'utf8'));
const lock = JSON.parse(fs.readFileSync(path.join(projectFolder, 'package-lock.json'), 'utf8'));

interface Locked {
  readonly dev?: boolean;
  readonly hasInstallScript?: boolean;
  readonly integrity?: string;
  readonly license?: string;
}
const packages = Object.entries(lock.packages as Record<string, Locked>).filter(([name]) => name !== '');

it('every script of the package runs on a fresh clone: what it imports before it has installed anything is Node’s own', () => {
  const scripts = Object.values(manifest.scripts as Record<string, string>).flatMap(
    (script) => /^node (src\/dev\/\S+\.mjs)/.exec(script)?.[1] ?? [],
  );
  expect(scripts).toContain('src/dev/bench.mjs');
  expect(scripts).toContain('src/dev/build.mjs');
  const importedBy = (file: string, seen = new Set<string>()): string[] => {
    if (seen.has(file)) return [];
    seen.add(file);
    const text = fs.readFileSync(path.join(projectFolder, file), 'utf8').replace(/`[^`]*`/g, '');
    return [...text.matchAll(/^import [^;]*?from '([^']+)';$/gm)].flatMap(([, from = '']) =>
      from.startsWith('.') ? importedBy(path.posix.join(path.posix.dirname(file), from), seen) : [from],
    );
  };
  for (const file of new Set(scripts))
    expect(
      importedBy(file).filter((one) => !one.startsWith('node:')),
      file,
    ).toEqual([]);
});

it('the lock file names no host, and every package has its checksum', () => {
  expect(JSON.stringify(lock)).not.toMatch(/https?:\/\/[^"]*\.tgz/);
  expect(packages.filter(([, one]) => !one.integrity).map(([name]) => name)).toEqual([]);
});

it('nothing that a user installs runs a script at install, and nothing has a licence that binds the user', () => {
  const shipped = packages.filter(([, one]) => !one.dev);
  expect(shipped.length).toBeGreaterThan(1);
  expect(shipped.filter(([, one]) => one.hasInstallScript).map(([name]) => name)).toEqual([]);
  const free = ([name, one]: (typeof packages)[number]): boolean => {
    if (one.license) return /^(MIT|ISC|Apache-2\.0|BSD|0BSD|\(MIT|BlueOak)/.test(one.license);
    const file = fs.readdirSync(path.join(projectFolder, name)).find((each) => /^licen[cs]e/i.test(each)) ?? 'none';
    return fs.readFileSync(path.join(projectFolder, name, file), 'utf8').includes('Permission is hereby granted, free of charge');
  };
  expect(shipped.filter((one) => !free(one)).map(([name]) => name)).toEqual([]);
  expect(Object.keys(manifest.scripts).filter((name) => /^(pre|post)?install$/.test(name))).toEqual([]);
});

it('every dependency has its reason in DEVELOPERS.md', () => {
  const text = fs.readFileSync(path.join(projectFolder, 'DEVELOPERS.md'), 'utf8');
  const named = (name: string) => text.includes(name) || name.startsWith('@types/');
  expect([...Object.keys(manifest.dependencies), ...Object.keys(manifest.devDependencies)].filter((name) => !named(name))).toEqual([]);
});

it('the bundles are of letters of one byte each, as they are read', () => {
  const folder = path.join(projectFolder, 'dist/bundle');
  const bundles = fs.readdirSync(folder).filter((name) => name.endsWith('.cjs'));
  expect(bundles.length).toBeGreaterThan(4);
  for (const name of bundles)
    expect(
      fs.readFileSync(path.join(folder, name)).findIndex((byte) => byte > 0x7f),
      name,
    ).toBe(-1);
  // What stands in patterns as an escape means the same.
  const file = path.join(fs.mkdtempSync(path.join(os.tmpdir(), 'baywright-signs-')), 'signs.yaml');
  const limits = ['≤ 0.05 mm', '−5 ± 1 °C', '22..28 N·m'].map((limit, n) => `  m${n}: { name: m, limit: ${limit}, outside: Stop. }`);
  fs.writeFileSync(file, `kind: procedure\nid: signs\nname: Signs\nmeasurements:\n${limits.join('\n')}\nsteps:\n  - inspect: leaks\n`);
  const { stdout } = spawnSync(process.execPath, [path.join(projectFolder, 'bin/baywright.js'), 'check', file], { encoding: 'utf8' });
  expect(stdout).toContain('1 file checked');
  expect(stdout).not.toContain('quantity/');
  fs.rmSync(path.dirname(file), { recursive: true });
});

it('packed twice it is the same to the byte, holds what it should and nothing else, and works where it is unpacked', () => {
  const packed = ['a', 'b'].map((name) => {
    const folder = path.join(place, name);
    fs.mkdirSync(folder);
    const said = execFileSync(npm, ['pack', '--json', '--ignore-scripts', '--pack-destination', folder], {
      cwd: projectFolder,
      encoding: 'utf8',
    });
    const [{ filename, files }] = JSON.parse(said);
    const file = path.join(folder, filename);
    return {
      file,
      names: files.map((one: { path: string }) => one.path) as string[],
      sum: createHash('sha256').update(fs.readFileSync(file)).digest('hex'),
    };
  });
  const [first, second] = packed;
  expect(first?.sum).toBe(second?.sum);
  const known =
    /^(package\.json|README\.md|LICENSE|CHANGELOG\.md|bin\/|dist\/bundle\/[\w-]+\.(cjs|txt)$|dist\/fonts\/|dist\/shipped\.json$|schemas\/[\w-]+\.schema\.json$|procedures\/)/;
  expect(first?.names.filter((name) => !known.test(name))).toEqual([]);
  expect(first?.names).toEqual(expect.arrayContaining(['bin/baywright.js', 'dist/bundle/main.cjs', 'dist/bundle/LICENSES.txt', 'LICENSE']));
  execFileSync('tar', ['-xzf', first?.file ?? '', '-C', place]);
  const unpacked = path.join(place, 'package');
  // What npm would install beside it, and nothing else.
  fs.mkdirSync(path.join(unpacked, 'node_modules'));
  for (const [name, one] of packages) {
    if (one.dev || name.lastIndexOf('node_modules/') > 0) continue;
    const to = path.join(unpacked, name);
    fs.mkdirSync(path.dirname(to), { recursive: true });
    fs.cpSync(path.join(projectFolder, name), to, { recursive: true });
  }
  const shop = path.join(place, 'shop');
  fs.cpSync(path.join(projectFolder, 'tests/fixtures/corner-garage'), shop, { recursive: true });
  const run = (...args: string[]) =>
    spawnSync(process.execPath, [path.join(unpacked, 'bin/baywright.js'), ...args], { cwd: shop, encoding: 'utf8' });
  expect(run('--version').stdout).toBe(`${manifest.version}\n`);
  expect(run('check')).toMatchObject({ status: 0, stdout: '5 files checked: clean.\n' });
  const built = run('build', '--format', 'both', '--out', path.join(place, 'paper'));
  expect([built.status, built.stderr]).toEqual([0, '']);
  expect(built.stdout.trim().split('\n')).toHaveLength(10);
  fs.writeFileSync(path.join(shop, 'broken.yaml'), 'kind: [\n');
  expect(run('check').stdout).toMatch(/yaml\/syntax/);

  fs.writeFileSync(path.join(shop, 'slip.yaml'), 'kind: preparation\nid: slip\nname: Slip\nsteps:\n  - inspct: leaks\n');
  expect(run('check').stdout).toContain('`inspct` is not a key of a step. Did you mean `inspect`?');
  expect(run('explain', 'torque/angle-past-proof').stdout).toContain('A bolt stretched for good does not hold the second time.');

  // An installation of which something is missing or cut off says so, whatever it is asked; only a letter that is not Latin
  // opens the font.
  fs.appendFileSync(path.join(shop, 'jobs/3001-pump.yaml'), 'technician: Лукаш Жак\n');
  const asked: readonly [string, string[]][] = [
    ['node_modules/yaml/package.json', ['check', '--no-cache']],
    ['node_modules/vscode-languageserver', ['editor']],
    ['dist/bundle/words.cjs', ['explain']],
    ...['start', 'main', 'check', 'fresh', 'validators', 'schemas', 'yaml-package'].map((name): [string, string[]] => [
      `dist/bundle/${name}.cjs`,
      ['check', '--no-cache'],
    ]),
    ...['build', 'commands', 'paper', 'fontkit'].map((name): [string, string[]] => [`dist/bundle/${name}.cjs`, ['build', '--draft']]),
    ['package.json', ['--version']],
  ];
  for (const [name, args] of asked) {
    const part = path.join(unpacked, name);
    const broken: (() => void)[] = [() => fs.renameSync(part, `${part}.away`)];
    if (name.endsWith('.cjs'))
      broken.push(() => {
        const whole = fs.readFileSync(`${part}.away`);
        fs.writeFileSync(part, whole.subarray(0, Math.min(5000, whole.length / 2)));
      });
    for (const breakIt of broken) {
      breakIt();
      const { status, stderr } = run(...args);
      expect([name, status, stderr]).toEqual([
        name,
        2,
        expect.stringMatching(/^baywright: [^\n]*not whole \([^\n]*install[^\n]* again\.\n$/i),
      ]);
    }
    fs.rmSync(part, { force: true });
    fs.renameSync(`${part}.away`, part);
  }
}, 60_000);
