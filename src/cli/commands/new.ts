import path from 'node:path';
import { fileOf } from '../../library/document.js';
import { isShipped, type Library, loadLibrary } from '../../library/library.js';
import { findRoot } from '../../library/root.js';
import { asList } from '../../library/scope.js';
import { documentKinds, isDocumentKind } from '../../schema/lookup.js';
import { forward, isDevice } from '../../world/paths.js';
import { realWorld } from '../../world/real.js';
import { CannotRun, type World } from '../../world/world.js';
import { didYouMeanOf } from '../../findings/suggest.js';
import { packageFolder, shippedFolder } from '../package-folder.js';
import { absolute } from '../root.js';
import { type JobBeginning, startingText } from './starting-text.js';

const folders: Readonly<Record<string, string>> = {
  vehicle: 'vehicles',
  procedure: 'procedures',
  preparation: 'procedures',
  parts: 'parts',
  job: 'jobs',
};

/** Writes a commented starting file, in which a check finds what is still to be written, with the line by which an editor finds its schema. */
export function newDocument(kind: string, id: string, today: string, write: (text: string) => void, say: (text: string) => void): number {
  if (!isDocumentKind(kind)) throw new CannotRun(`There is no kind “${kind}”.${didYouMeanOf(kind, documentKinds)}`);
  if (!/^[a-z0-9][a-z0-9-]{0,79}$/.test(id))
    throw new CannotRun(`“${id.slice(0, 60)}” cannot be an id: write lower-case letters, digits and hyphens, for example coolant-pump.`);
  if (isDevice(id)) throw new CannotRun(`No file can be called “${id}” on Windows, which keeps this name for a device. Choose another id.`);
  const root = findRoot(realWorld, absolute('.')) ?? absolute('.');
  const file = kind === 'shop' ? `${absolute('.')}/shop.yaml` : `${root}/${folders[kind]}/${id}.yaml`;
  const schema = schemaFor(file, root, kind);
  const shipped = kind === 'preparation' ? shippedText(root, id) : null;
  const text =
    shipped === null
      ? startingText(kind, id, schema, today, kind === 'job' ? beginningFor(root, id) : undefined)
      : underSchema(shipped, schema);
  realWorld.writeNew(file, text);
  write(`${file}\n`);
  if (shipped !== null) say('A copy of what ships with the tool; it takes the place of that in this library.\n');
  return 0;
}

/** A preparation that ships with the tool, in the language of the shop; null where none is called so. */
function shippedText(root: string, id: string): string | null {
  // Of the library only the shop itself need be read, which says the language.
  const isWanted = (path: string) => path.startsWith(shippedFolder) || /^\/shop\.ya?ml$/.test(path.slice(root.length));
  const files: World['files'] = (folder, endings) => realWorld.files(folder, endings).filter(isWanted);
  const document = loadLibrary({ ...realWorld, files }, root, shippedFolder).preparations.get(id);
  return document && isShipped(document) ? fileOf(document).text : null;
}

const underSchema = (text: string, schema: string): string =>
  text.replace(/^(# yaml-language-server: \$schema=).*$/m, (_, before) => `${before}${schema}`);

/**
 * The schema as an editor finds it: beside the library where the tool is installed in it or next to it, else by its full path.
 * An editor takes it as it stands up to the first space.
 */
function schemaFor(file: string, root: string, kind: string): string {
  const schema = `${packageFolder}/schemas/${kind}.schema.json`;
  const from = (folder: string) => forward(path.relative(folder, schema));
  const isNear = !from(root).startsWith('../../') && /^[\w./@+-]+$/.test(from(root));
  if (isNear) return from(path.dirname(file));
  const full = encodeURI(schema).replaceAll('#', '%23').replaceAll('?', '%3F');
  return `file://${full.startsWith('/') ? '' : '/'}${full}`;
}

/** What a new job begins with, so that nothing else is found in it. */
function beginningFor(root: string, id: string): JobBeginning {
  const library = loadLibrary(realWorld, root, shippedFolder);
  return { ...workIn(library), number: numberFor(id, new Set([...library.jobs.values()].map((job) => job.number))) };
}

/** A vehicle of the library and a procedure for it. */
function workIn(library: Library): Omit<JobBeginning, 'number'> {
  for (const procedure of library.procedures.values()) {
    const vehicle =
      asList(procedure.for).find((one) => library.vehicles.has(one)) ??
      (procedure.for === undefined ? [...library.vehicles.keys()][0] : undefined);
    if (vehicle) return { vehicle, procedure: procedure.id };
  }
  return { vehicle: 'vehicle-id', procedure: 'procedure-id' };
}

/** The digits with which its id begins, or else the number after the highest. */
function numberFor(id: string, taken: ReadonlySet<string | undefined>): string {
  const [meant] = /^\d{1,12}/.exec(id) ?? [];
  if (meant !== undefined && !taken.has(meant)) return meant;
  let highest = 0;
  for (const one of taken) if (/^\d{1,12}$/.test(one ?? '')) highest = Math.max(highest, Number(one));
  return String(highest + 1);
}
