import type { Finding } from '../findings/finding.js';
import type { AnyDocument } from '../schema/generated/types.js';
import { once } from '../once.js';
import type { SourceFile } from '../source/source.js';
import { yamlEndings } from './root.js';
import { asList } from './scope.js';
import { languageOf } from '../words/words.js';
import { CannotRun, type World } from '../world/world.js';
import {
  type JobDocument,
  type LibraryFile,
  type PartsDocument,
  type PreparationDocument,
  type ProcedureDocument,
  readDocument,
  type ShopDocument,
  type VehicleDocument,
  type WorkDocument,
} from './document.js';

/** All documents of a shop and those that come with the tool, by kind and id. */
export interface Library {
  /** Absolute path of the library's folder. */
  readonly root: string;
  readonly files: readonly LibraryFile[];
  readonly shop: ShopDocument | null;
  /** Documents that come with the tool. */
  readonly shipped: ReadonlySet<AnyDocument>;
  readonly vehicles: ReadonlyMap<string, VehicleDocument>;
  readonly procedures: ReadonlyMap<string, ProcedureDocument>;
  readonly preparations: ReadonlyMap<string, PreparationDocument>;
  readonly catalogues: readonly PartsDocument[];
  readonly jobs: ReadonlyMap<string, JobDocument>;
  /** Documents whose id another document of the same kind has already. */
  readonly doubles: readonly { readonly document: AnyDocument; readonly first: AnyDocument }[];
  /** A shop's own document that takes the place of a shipped one. */
  readonly replaced: readonly { readonly own: AnyDocument; readonly shipped: AnyDocument }[];
}

/**
 * Reads a library: every YAML file below `root`, then the shipped documents that the shop does not replace.
 * @param shippedFolder where the documents that come with the tool lie
 * @param ignore absolute folders to pass over (the output folder)
 * @param known files that were read before, by name; one whose text is the same is not read anew
 */
export function loadLibrary(
  world: World,
  root: string,
  shippedFolder: string,
  ignore: readonly string[] = [],
  known?: ReadonlyMap<string, LibraryFile>,
): Library {
  const read = (path: string, name: string, shipped: boolean): LibraryFile => {
    const result = world.read(path, shipped ? shippedFolder : root);
    const file: SourceFile = {
      path: name,
      text: result.ok ? (result.text.charCodeAt(0) === 0xfeff ? result.text.slice(1) : result.text) : '',
    };
    const before = known?.get(name);
    if (result.ok && before?.file.text === file.text && before.readable) return before;
    if (result.ok) return readDocument(file, shipped);
    const finding: Finding = {
      rule: 'yaml/unreadable',
      severity: 'error',
      message: `This file cannot be read: ${result.why}.`,
      span: { file, start: 0, end: 0 },
    };
    return { file, root: null, document: null, shipped, findings: [finding], readable: false };
  };
  const own = world.files(root, yamlEndings).filter((path) => !ignore.some((folder) => path.startsWith(`${folder}/`)));
  const files = own.map((path) => read(path, path.slice(root.length + 1), false));
  const shop = files.find((file) => file.document?.kind === 'shop')?.document;
  const language = shop?.kind === 'shop' ? (shop.language ?? languageOf(shop.locale ?? 'en')) : 'en';
  const taken = new Set(own);
  const shipped = shippedIn(language, world.files(shippedFolder, yamlEndings), shippedFolder)
    .filter((path) => !taken.has(path))
    .map((path) => read(path, `baywright:procedures/${path.slice(shippedFolder.length + 1)}`, true));
  return index(root, [...files, ...shipped]);
}

/** The shipped documents in a language: a folder of that name holds those that are not English; what it lacks stays English. */
function shippedIn(language: string, all: readonly string[], folder: string): string[] {
  const known = new Set(all);
  return all
    .filter((path) => !path.slice(folder.length + 1).includes('/'))
    .map((path) => {
      const other = `${folder}/${language}/${path.slice(folder.length + 1)}`;
      return known.has(other) ? other : path;
    });
}

/** Indexes documents that were read. A shop's own document wins over a shipped one of the same id. */
export function index(root: string, files: readonly LibraryFile[]): Library {
  const vehicles = new Map<string, VehicleDocument>();
  const procedures = new Map<string, ProcedureDocument>();
  const preparations = new Map<string, PreparationDocument>();
  const jobs = new Map<string, JobDocument>();
  const catalogues = new Map<string, PartsDocument>();
  const shops = new Map<string, ShopDocument>();
  const shipped = new Set<AnyDocument>();
  const doubles: { document: AnyDocument; first: AnyDocument }[] = [];
  const replaced: { own: AnyDocument; shipped: AnyDocument }[] = [];
  const enter = <T extends AnyDocument>(known: Map<string, T>, id: string, document: T): void => {
    const first = known.get(id);
    if (!first) known.set(id, document);
    else if (shipped.has(document)) replaced.push({ own: first, shipped: document });
    else doubles.push({ document, first });
  };
  for (const file of files) {
    const { document } = file;
    if (!document) continue;
    if (file.shipped) shipped.add(document);
    if (document.kind === 'vehicle') enter(vehicles, document.id, document);
    else if (document.kind === 'procedure') enter(procedures, document.id, document);
    else if (document.kind === 'preparation') enter(preparations, document.id, document);
    else if (document.kind === 'job') enter(jobs, document.id, document);
    else if (document.kind === 'parts') enter(catalogues, document.id, document);
    else enter(shops, 'shop', document);
  }
  return {
    root,
    files,
    shop: shops.get('shop') ?? null,
    shipped,
    catalogues: [...catalogues.values()],
    doubles,
    replaced,
    vehicles,
    procedures,
    preparations,
    jobs,
  };
}

/** The documents that names stand for, in the order of the files: those whose id another has already are not among them. */
export const documentsOf = ({ files, doubles, replaced }: Library): AnyDocument[] => {
  const passed = new Set<AnyDocument>([...doubles.map((one) => one.document), ...replaced.map((one) => one.shipped)]);
  const documents: AnyDocument[] = [];
  for (const { document } of files) if (document && (passed.size === 0 || !passed.has(document))) documents.push(document);
  return documents;
};

const byVehicle = new WeakMap<Library, Map<string, readonly PartsDocument[]>>();

/** The catalogues whose parts fit a vehicle. */
export const cataloguesFor = (library: Library, vehicle: string): readonly PartsDocument[] =>
  once(
    once(byVehicle, library, () => new Map<string, readonly PartsDocument[]>()),
    vehicle,
    () => library.catalogues.filter((one) => one.for === undefined || asList(one.for).includes(vehicle)),
  );

export const isShipped = (library: Library, document: AnyDocument): boolean => library.shipped.has(document);

export const workDocument = (library: Library, id: string): WorkDocument | undefined =>
  library.procedures.get(id) ?? library.preparations.get(id);

/** The shop, or an answer to the user. */
export function requireShop(library: Library): ShopDocument {
  if (!library.shop) throw new CannotRun('This library has no shop.yaml that can be read. Make one with `baywright new shop ID`.');
  return library.shop;
}
