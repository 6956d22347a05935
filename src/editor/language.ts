import { verbOf, isVerb } from '../ledger/verbs.js';
import type { LibraryFile } from '../library/document.js';
import { isWork } from '../library/document.js';
import { workDocument, type Library } from '../library/library.js';
import { asList, type NameKind, namesOf, mergeScopes, type Scope, tableOf } from '../library/scope.js';
import { bothTorques, limitText } from '../job/format.js';
import { stageFromContact } from '../resolve/torque/contact.js';
import { loadRatio, preloadOf } from '../resolve/torque/plausibility.js';
import { threadOf } from '../resolve/torque/threads.js';
import type { Fastener } from '../schema/generated/types.js';
import { spanOf } from '../schema/origin.js';
import { placeOf, type Span } from '../source/source.js';
import { cursorAt, type Cursor } from './cursor.js';

/** A name that can be written at a place, with a word on what it is. */
export interface Suggestion {
  readonly name: string;
  readonly detail: string;
}

/** The scopes in which a document's names are looked up: one for each vehicle that it is written for. */
function scopesOf(library: Library, file: LibraryFile | undefined): readonly Scope[] {
  const { document } = file ?? {};
  const vehicles = [...library.vehicles.values()];
  if (document && isWork(document)) {
    const own = document.for === undefined ? vehicles : vehicles.filter((vehicle) => asList(document.for).includes(vehicle.id));
    return (own.length > 0 ? own : [null]).map((vehicle) => mergeScopes([document], vehicle));
  }
  const shown =
    document?.kind === 'vehicle'
      ? [document]
      : document?.kind === 'job'
        ? vehicles.filter((vehicle) => vehicle.id === document.vehicle)
        : vehicles;
  return shown.map((vehicle) => mergeScopes([], vehicle));
}

const allKinds: readonly NameKind[] = ['fastener', 'part', 'temporary', 'fluid', 'charge', 'measurement', 'choice'];

/** What a key takes: names of the scope, or of documents. */
function kindsFor(key: string | null): readonly NameKind[] | 'preparation' | 'procedure' | 'vehicle' | 'tool' | 'item' | null {
  if (key === null) return null;
  if (isVerb(key)) {
    const { objects } = verbOf(key);
    return objects === 'free' ? null : objects;
  }
  const others: Readonly<Record<string, readonly NameKind[] | 'preparation' | 'procedure' | 'vehicle' | 'tool' | 'item'>> = {
    needs: 'preparation',
    work: 'procedure',
    for: 'vehicle',
    vehicle: 'vehicle',
    with: 'tool',
    adapter: 'tool',
    'counter-hold': 'tool',
    tool: 'tool',
    item: 'item',
    behind: ['part'],
    through: ['part'],
    renew: ['part'],
    fasteners: ['fastener'],
    from: ['measurement'],
    plus: ['measurement'],
    minus: ['measurement'],
    stays: ['measurement'],
    strength: ['measurement'],
    until: ['measurement'],
    circuit: ['fluid', 'charge'],
    repeat: ['fluid'],
  };
  return Object.hasOwn(others, key) ? (others[key] ?? null) : null;
}

/** Names that fit at a place. */
export function suggestionsAt(library: Library, file: LibraryFile | undefined, text: string, offset: number): Suggestion[] {
  const cursor = cursorAt(text, offset);
  const kinds = kindsFor(cursor.key);
  if (kinds === null) return [];
  const named = (entries: Iterable<readonly [string, { readonly name?: string }]>, what: string): Suggestion[] =>
    [...entries].map(([name, one]) => ({ name, detail: one.name ? `${what}: ${one.name}` : what }));
  if (kinds === 'preparation') return named(library.preparations, 'preparation');
  if (kinds === 'procedure') return named(library.procedures, 'procedure');
  if (kinds === 'vehicle') return named(library.vehicles, 'vehicle profile');
  if (kinds === 'tool') return named(Object.entries(library.shop?.tools ?? {}), 'tool');
  if (kinds === 'item')
    return named(
      [...library.catalogues.values()].flatMap((catalogue) => Object.entries(catalogue.items)),
      'catalogue item',
    );
  const found = scopesOf(library, file).flatMap((scope) => kinds.flatMap((kind) => named(namesOf(scope, kind), kind)));
  return [...new Map(found.map((one) => [one.name, one])).values()];
}

/** Where the name at a place is declared. */
export function definitionAt(library: Library, file: LibraryFile | undefined, text: string, offset: number): Span | null {
  const cursor = cursorAt(text, offset);
  const { word } = cursor;
  if (word === '' || cursor.onKey) return needOnKey(library, cursor);
  for (const scope of scopesOf(library, file)) {
    const holder = file?.document;
    for (const kind of ordered(kindsFor(cursor.key))) {
      const entry = namesOf(scope, kind).get(word);
      if (entry) return declared(scope, holder ?? null, kind, word) ?? spanOf(entry);
    }
  }
  const work = workDocument(library, word);
  if (work) return spanOf(work, 'id');
  const vehicle = library.vehicles.get(word);
  if (vehicle) return spanOf(vehicle, 'id');
  const tools = library.shop?.tools;
  if (tools && Object.hasOwn(tools, word)) return spanOf(tools, word, 'key');
  for (const { items } of library.catalogues.values()) if (Object.hasOwn(items, word)) return spanOf(items, word, 'key');
  return null;
}

/** `coolant-drained: { … }` under `needs:` is a name, too. */
function needOnKey(library: Library, cursor: Cursor): Span | null {
  const work = cursor.onKey ? workDocument(library, cursor.word) : undefined;
  return work ? spanOf(work, 'id') : null;
}

const ordered = (kinds: ReturnType<typeof kindsFor>): readonly NameKind[] =>
  Array.isArray(kinds) ? [...kinds, ...allKinds.filter((kind) => !kinds.includes(kind))] : allKinds;

function declared(scope: Scope, holder: object | null, kind: NameKind, name: string): Span | null {
  for (const document of [scope.vehicle, holder]) {
    if (!document) continue;
    const table = tableOf(document, kind);
    if (table && Object.hasOwn(table, name)) return spanOf(table, name, 'key');
  }
  return null;
}

/** What hovers over a name: a joint with its stages in both units and how far they load the bolt, or what the name stands for. */
export function hoverAt(
  library: Library,
  file: LibraryFile | undefined,
  text: string,
  offset: number,
): { readonly words: string; readonly start: number; readonly end: number } | null {
  const cursor = cursorAt(text, offset);
  if (cursor.word === '') return null;
  const at = (words: string) => ({ words, start: cursor.start, end: cursor.end });
  const kinds = kindsFor(cursor.key);
  const unit = library.shop?.['torque-unit'] ?? 'N·m';
  for (const scope of scopesOf(library, file)) {
    for (const kind of ordered(kinds)) {
      if (kind === 'fastener') {
        const group = scope.fasteners.get(cursor.word);
        if (group) return at(jointWords(cursor.word, group, unit));
        continue;
      }
      const entry = namesOf(scope, kind).get(cursor.word);
      if (!entry) continue;
      const joints =
        kind === 'part'
          ? asList(scope.parts.get(cursor.word)?.fasteners).flatMap((id) =>
              scope.fasteners.has(id) ? [[id, scope.fasteners.get(id)] as const] : [],
            )
          : [];
      return at(
        [
          `**${entry.name ?? cursor.word.replaceAll('-', ' ')}** (${kind})`,
          ...joints.flatMap(([id, group]) => (group ? [jointWords(id, group, unit)] : [])),
        ].join('\n\n'),
      );
    }
  }
  const work = workDocument(library, cursor.word);
  return work ? at(`**${work.name}** (${work.kind}, rev. ${work.revision ?? '—'})`) : null;
}

function jointWords(id: string, group: Fastener, unit: string): string {
  const stages = (group.stages ?? []).map((stage, index) => {
    const torque = stage.torque ? bothTorques(stage.torque, unit) : null;
    const figure = torque
      ? `${torque.value} (${torque.other})`
      : stage.angle
        ? stage === stageFromContact(group.stages)
          ? `${limitText(stage.angle)} from contact`
          : `+${limitText(stage.angle)}`
        : stage['back-off']
          ? `${limitText(stage['back-off'])} back`
          : (Object.keys(stage)[0] ?? '');
    return `${index + 1}. ${figure}${stage.after ? ` after ${stage.after}` : ''}${stage.wheels ? ', wheels on the ground' : ''}`;
  });
  const ratio = loadRatio(group);
  const estimate = preloadOf(group);
  const load =
    ratio === null
      ? ''
      : `\n\nLoads the bolt to about ${(ratio * 100).toFixed(0)} % of its proof load${estimate ? ` (${(estimate.band.leastShare * 100).toFixed(0)} to ${(estimate.band.mostShare * 100).toFixed(0)} % over the friction of ${group.threads ?? 'any state'})` : ''}. An estimate; the maker’s figure stands.`;
  const head = [
    `${group.count ?? 1} × ${threadOf(group) ?? ''}${group.class ? ` (${group.class})` : ''}`.trim(),
    group.drive,
    group.reuse === 'never' ? 'new each time' : null,
    group.threads ? `threads ${group.threads}` : null,
  ]
    .filter(Boolean)
    .join(', ');
  return `**${group.name ?? id.replaceAll('-', ' ')}**\n\n${head}\n\n${stages.join('\n')}${load}`;
}

/** Line and column from 0, as editors count. */
export const editorPlace = (span: Span, end = false): { line: number; character: number } => {
  const place = placeOf(span.file, end ? Math.max(span.end, span.start) : span.start);
  return { line: place.line - 1, character: place.column - 1 };
};
