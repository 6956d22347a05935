import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll } from 'vitest';
import { checkLibrary } from '../../src/compile.js';
import { compileJob } from '../../src/job/compile-job.js';
import { type Library, loadLibrary } from '../../src/library/library.js';
import type { CompiledJob } from '../../src/schema/generated/compiled-job.js';
import { placeOf } from '../../src/source/source.js';
import { memoryWorld } from '../../src/world/memory.js';

/** Tests keep what they find apart from what the user's own runs keep. */
if (process.env.BAYWRIGHT_CACHE === undefined) {
  const cache = path.join(os.tmpdir(), `baywright-test-cache-${process.pid}`);
  process.env.BAYWRIGHT_CACHE = cache;
  afterAll(() => fs.rmSync(cache, { recursive: true, force: true }));
}

export const projectFolder = path.resolve(path.dirname(fileURLToPath(import.meta.url)), '../..');

/** All YAML texts below a folder, by the path that they have in a world in memory. */
export function textsOf(folder: string, to: string): Record<string, string> {
  return Object.fromEntries(
    fs.readdirSync(folder, { withFileTypes: true }).flatMap((entry): [string, string][] => {
      if (entry.name.startsWith('.')) return [];
      const full = path.join(folder, entry.name);
      if (entry.isDirectory()) return Object.entries(textsOf(full, `${to}/${entry.name}`));
      return /\.ya?ml$/.test(entry.name) ? [[`${to}/${entry.name}`, fs.readFileSync(full, 'utf8')]] : [];
    }),
  );
}

/** The demo shop and the shipped procedures as texts, by absolute path in a world in memory. */
export const demoTexts = (): Record<string, string> => ({
  ...textsOf(path.join(projectFolder, 'examples'), '/shop'),
  ...textsOf(path.join(projectFolder, 'procedures'), '/shipped'),
});

export const libraryOf = (texts: Readonly<Record<string, string>>): Library => loadLibrary(memoryWorld(texts), '/shop', '/shipped');

export function compiled(library: Library, id: string): CompiledJob {
  const job = library.jobs.get(id);
  const value = job && compileJob(library, job);
  if (!value) throw new Error(`${id} does not compile`);
  return value;
}

type Change = readonly [file: string, from: string, to: string];

/** A library with some of its texts changed; fails where the text to change is not there. */
export function libraryWith(all: Readonly<Record<string, string>>, changes: readonly Change[]): Library {
  const texts = { ...all };
  for (const [file, from, to] of changes) {
    const text = texts[file];
    if (!text?.includes(from)) throw new Error(`${file} has no “${from}”`);
    texts[file] = text.replace(from, to);
  }
  return libraryOf(texts);
}

/** The demo, so changed. */
export const demoWith = (...changes: readonly Change[]): Library => libraryWith(demoTexts(), changes);

/** `rule @ file:line`, without infos, and the messages of second places. */
export function found(library: Library): { rule: string; place: string; line: string; message: string; related: string[] }[] {
  return checkLibrary(library)
    .filter((finding) => finding.severity !== 'info')
    .map((finding) => {
      const { line } = placeOf(finding.span.file, finding.span.start);
      return {
        rule: finding.rule,
        place: `${finding.span.file.path}:${line}`,
        line: finding.span.file.text.split('\n')[line - 1]?.trim() ?? '',
        message: finding.message,
        related: (finding.related ?? []).map((one) => one.message),
      };
    });
}

export const csv = (name: string): Record<string, string>[] => {
  const [head = '', ...rows] = fs
    .readFileSync(path.join(projectFolder, 'tests/reference', name), 'utf8')
    .trim()
    .split(/\r?\n/);
  const split = (row: string) => [...row.matchAll(/("(?:[^"]|"")*"|[^,]*)(,|$)/g)].map((match) => (match[1] ?? '').replace(/^"|"$/g, ''));
  const names = split(head);
  return rows.map((row) => Object.fromEntries(split(row).map((value, index) => [names[index] ?? '', value])));
};
