import type { Finding } from '../findings/finding.js';
import type { AnyDocument } from '../schema/generated/types.js';
import { type DocumentKind, documentKinds } from '../schema/lookup.js';
import { once } from '../once.js';
import { cannotBeRead, type SourceFile, withoutMark } from '../source/source.js';
import { fileEndings, liesIn, shippedAs, yamlEndings } from './root.js';
import { languageOf } from '../words/words.js';
import { CannotRun, type World } from '../world/world.js';
import type { Card } from './card.js';
import { Documents } from './documents.js';
import {
  fileOf,
  type JobDocument,
  type LibraryFile,
  type PartsDocument,
  type PreparationDocument,
  type ProcedureDocument,
  ReadFile,
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
  /** Files whose documents names stand for, in the order of the files: those whose id another has already are not among them. */
  readonly standing: readonly LibraryFile[];
  readonly vehicles: Documents<VehicleDocument>;
  readonly procedures: Documents<ProcedureDocument>;
  readonly preparations: Documents<PreparationDocument>;
  readonly catalogues: Documents<PartsDocument>;
  readonly jobs: Documents<JobDocument>;
  /** Documents whose id another document of the same kind has already; procedures and preparations are asked for alike, and are one. */
  readonly doubles: readonly { readonly second: LibraryFile; readonly first: LibraryFile }[];
  /** A shop's own document that takes the place of a shipped one. */
  readonly replaced: readonly { readonly own: LibraryFile; readonly shipped: LibraryFile }[];
}

/** What is known of files from before, by full path. */
export interface Memory {
  /** A file of which it is certain that it is as it was: it is not even opened. */
  unchanged(path: string): LibraryFile | undefined;
  /** A file as it was; if its text is still the same, it is not read anew. */
  before?(path: string): LibraryFile | undefined;
  /** Takes a file that has been opened now. */
  keep?(path: string, file: LibraryFile): void;
  /** The library as it was. */
  readonly library?: Library;
}

/**
 * Reads a library: every YAML file below `root`, then the shipped documents that the shop does not replace.
 * @param shippedFolder where the documents that come with the tool lie
 * @param ignore absolute folders to pass over (the output folder)
 */
export function loadLibrary(world: World, root: string, shippedFolder: string, ignore: readonly string[] = [], memory?: Memory): Library {
  const read = (path: string, shipped: boolean): LibraryFile => {
    const same = memory?.unchanged(path);
    if (same) return same;
    const now = readNow(path, shipped);
    memory?.keep?.(path, now);
    return now;
  };
  const readNow = (path: string, shipped: boolean): LibraryFile => {
    const folder = shipped ? shippedFolder : root;
    const result = world.read(path, folder);
    const file: SourceFile = {
      path: `${shipped ? shippedAs : ''}${path.slice(folder.length + 1) || '.'}`,
      text: result.ok ? withoutMark(result.text) : '',
    };
    const before = memory?.before?.(path);
    if (result.ok && before instanceof ReadFile && before.readable && before.file.text === file.text) return before;
    if (result.ok) return readDocument(file, shipped);
    const finding: Finding = {
      rule: 'yaml/unreadable',
      severity: 'error',
      message: cannotBeRead(result.why),
      span: { file, start: 0, end: 0 },
    };
    return new ReadFile(file, shipped, [finding], null, false);
  };
  const own = world.files(root, fileEndings).filter((path) => !ignore.some((folder) => liesIn(path, folder)));
  const files = own.map((path) => read(path, false));
  const shop = files.find((file) => file.card?.kind === 'shop')?.document;
  const language = shop?.kind === 'shop' ? (shop.language ?? languageOf(shop.locale ?? 'en')) : 'en';
  const taken = new Set(own);
  const shipped = shippedIn(language, world.files(shippedFolder, yamlEndings), shippedFolder)
    .filter((path) => !taken.has(path))
    .map((path) => read(path, true));
  const now = [...files, ...shipped];
  const before = memory?.library;
  return before && isSame(before.files, now) ? before : index(root, now);
}

const isSame = (before: readonly LibraryFile[], now: readonly LibraryFile[]): boolean =>
  before.length === now.length && before.every((one, n) => one === now[n]);

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

/** What is asked for by the same names. */
const askedAlike: Partial<Record<DocumentKind, DocumentKind>> = { procedure: 'preparation', preparation: 'procedure' };

/** Indexes files that were read. A shop's own document wins over a shipped one of the same id. */
export function index(root: string, files: readonly LibraryFile[]): Library {
  const byKind = new Map(documentKinds.map((kind) => [kind, new Map<string, LibraryFile>()]));
  const standing: LibraryFile[] = [];
  const doubles: { second: LibraryFile; first: LibraryFile }[] = [];
  const replaced: { own: LibraryFile; shipped: LibraryFile }[] = [];
  for (const file of files) {
    const { card } = file;
    if (!card) continue;
    const known = byKind.get(card.kind);
    const id = card.kind === 'shop' ? 'shop' : card.id;
    const alike = askedAlike[card.kind];
    const first = known?.get(id) ?? (alike && byKind.get(alike)?.get(id));
    if (first && file.shipped) replaced.push({ own: first, shipped: file });
    else if (first) doubles.push({ second: file, first });
    else {
      known?.set(id, file);
      standing.push(file);
    }
  }
  const ofKind = (kind: DocumentKind) => byKind.get(kind) ?? new Map<string, LibraryFile>();
  return {
    root,
    files,
    shop: new Documents<ShopDocument>('shop', ofKind('shop')).get('shop') ?? null,
    standing,
    doubles,
    replaced,
    vehicles: new Documents('vehicle', ofKind('vehicle')),
    procedures: new Documents('procedure', ofKind('procedure')),
    preparations: new Documents('preparation', ofKind('preparation')),
    catalogues: new Documents('parts', ofKind('parts')),
    jobs: new Documents('job', ofKind('job')),
  };
}

const filesByPath = new WeakMap<Library, ReadonlyMap<string, LibraryFile>>();

/** The file of a library that findings name by a path. */
export const fileAt = (library: Library, path: string): LibraryFile | undefined =>
  once(filesByPath, library, () => new Map(library.files.map((one) => [one.file.path, one]))).get(path);

/** Catalogues by what they say they fit; each with its place in the order of the files. */
interface CatalogueIndex {
  readonly any: readonly Placed[];
  /** Those that name a vehicle which the library does not have: they may be meant for any. */
  readonly astray: readonly Placed[];
  readonly byVehicle: ReadonlyMap<string, readonly Placed[]>;
  /** What was asked for. */
  readonly made: Map<string, readonly PartsDocument[]>;
}

interface Placed {
  readonly n: number;
  readonly id: string;
}

const catalogueIndexes = new WeakMap<Library, CatalogueIndex>();

const catalogueIndex = (library: Library): CatalogueIndex =>
  once(catalogueIndexes, library, () => {
    const any: Placed[] = [];
    const astray: Placed[] = [];
    const byVehicle = new Map<string, Placed[]>();
    for (const [n, { card }] of library.standing.entries()) {
      if (card?.kind !== 'parts') continue;
      if (vehiclesAstray(library, card).length > 0) astray.push({ n, id: card.id });
      if (!card.for) any.push({ n, id: card.id });
      else for (const vehicle of new Set(card.for)) once(byVehicle, vehicle, () => []).push({ n, id: card.id });
    }
    return { any, astray, byVehicle, made: new Map() };
  });

/** The vehicles that a document says it is for and that the library does not have. */
export const vehiclesAstray = ({ vehicles }: Pick<Library, 'vehicles'>, card: Card): readonly string[] =>
  card.for?.filter((vehicle) => !vehicles.has(vehicle)) ?? [];

/** The catalogues that may be meant for any vehicle, as they name one that the library does not have. */
export const cataloguesAstray = (library: Library): readonly PartsDocument[] =>
  catalogueIndex(library).astray.flatMap(({ id }) => library.catalogues.get(id) ?? []);

/** The catalogues whose parts fit a vehicle, in the order of the files. */
export function cataloguesFor(library: Library, vehicle: string): readonly PartsDocument[] {
  const { any, byVehicle, made } = catalogueIndex(library);
  return once(made, vehicle, () =>
    [...any, ...(byVehicle.get(vehicle) ?? [])].sort((a, b) => a.n - b.n).flatMap(({ id }) => library.catalogues.get(id) ?? []),
  );
}

export const isShipped = (document: AnyDocument): boolean => fileOf(document).path.startsWith(shippedAs);

export const workDocument = (library: Library, id: string): WorkDocument | undefined =>
  library.procedures.get(id) ?? library.preparations.get(id);

const madeUnread = new WeakMap<Library, readonly DocumentKind[]>();

/** Kinds of documents that stand in files of which none could be made; in one that could not be opened, any may. */
export const unreadKinds = (library: Library): readonly DocumentKind[] =>
  once(madeUnread, library, () =>
    library.files.flatMap(({ card, readable, meant }) => (card ? [] : readable ? (meant?.kind ?? []) : documentKinds)),
  );

/** How many files nobody could read, where something is missing that may stand in them; nothing where there are none. */
export function couldNotBeRead({ files }: Library): string {
  const count = files.filter(({ readable }) => !readable).length;
  if (count === 0) return '';
  return ` ${count === 1 ? 'One file or folder' : `${count} files or folders`} could not be read; \`baywright check\` says why.`;
}

/** The shop, or an answer to the user. */
export function requireShop(library: Library): ShopDocument {
  if (library.shop) return library.shop;
  const file = library.files.find(({ file, shipped }) => !shipped && /^shop\.ya?ml$/.test(file.path))?.file.path;
  throw new CannotRun(
    file === undefined
      ? `This library has no shop.yaml that can be read.${couldNotBeRead(library)} Make one with \`baywright new shop ID\`.`
      : `${file} cannot be used as it is; \`baywright check\` says why.`,
  );
}
