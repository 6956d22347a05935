import type { DocumentKind } from '../schema/lookup.js';
import type { AnyDocument, Fastener, JobDocument, Needs } from '../schema/generated/types.js';
import { isDamaged } from '../schema/origin.js';
import { namesWritten } from './written.js';

/**
 * What the others of a library ask of a document without reading it: plain data, made from the document, or kept from when
 * it was read before.
 */
export interface Card {
  readonly kind: DocumentKind;
  readonly id: string;
  /** Vehicles that a procedure, preparation or catalogue is for; undefined where it says nothing. */
  readonly for?: readonly string[] | undefined;
  /** Ids of what a procedure or preparation needs. */
  readonly needs?: readonly string[];
  /** Names of its own measurements. */
  readonly measurements?: readonly string[];
  /** Its own fastener groups, each with its stages in words. */
  readonly fasteners?: readonly (readonly [group: string, stages: string])[];
  /** Items of a catalogue, and its numbers that supersede others. */
  readonly items?: readonly string[];
  readonly supersedes?: readonly (readonly [number: string, others: readonly string[]])[];
  /** Vehicle of a job, the ids of its work, in any way, and what its paper calls it: its number, or its id. */
  readonly vehicle?: string;
  readonly work?: readonly string[];
  readonly number?: string;
  readonly date?: string;
}

/**
 * The vehicles that a document says it is for; undefined where it says nothing. Without `asList`: cards stay, and of what
 * mostly stays the engine puts all where things stay, also the many short lists that rules ask for.
 */
export const vehiclesSaid = (document: { readonly for?: string | string[] }): readonly string[] | undefined =>
  typeof document.for === 'string' ? [document.for] : document.for;

/** Whether a document may be worked on a vehicle: it says so, or says nothing of vehicles. */
export const isFor = ({ for: said }: { readonly for?: string | readonly string[] }, vehicle: string): boolean =>
  said === undefined || said === vehicle || (typeof said !== 'string' && said.includes(vehicle));

/** The id in `vehicle-raised`, and in `wheels-off: [front-right]`. */
export const neededId = (need: Needs[number]): string => (typeof need === 'string' ? need : (Object.keys(need)[0] ?? ''));

/** What the paper of a job calls it. */
export const numberOfJob = ({ number, id }: Pick<JobDocument, 'number' | 'id'>): string => number ?? id;

/** What a job asks for, and what it would ask for in other ways. */
export const worksOf = ({ work, alternatives }: JobDocument): Needs => [
  ...work,
  ...Object.values(alternatives ?? {}).flatMap((one) => one.work),
];

export function cardOf(document: AnyDocument): Card {
  const { kind, id } = document;
  switch (document.kind) {
    case 'procedure':
    case 'preparation':
      return {
        kind,
        id,
        for: vehiclesSaid(document),
        needs: (document.needs ?? []).map(neededId),
        measurements: Object.keys(document.measurements ?? {}),
        fasteners: fastenersOf(document.fasteners),
      };
    case 'vehicle':
      return { kind, id, fasteners: fastenersOf(document.fasteners) };
    case 'parts':
      return {
        kind,
        id,
        for: vehiclesSaid(document),
        items: namesWritten(document.items),
        supersedes: document.offers.flatMap(({ number, supersedes }) => (supersedes ? [[number, supersedes] as const] : [])),
      };
    case 'job':
      return {
        kind,
        id,
        vehicle: document.vehicle,
        work: worksOf(document).map(neededId),
        number: numberOfJob(document),
        date: document.date,
      };
    case 'shop':
      return { kind, id };
  }
}

const fastenersOf = (groups: Readonly<Record<string, Fastener>> | undefined): (readonly [string, string])[] =>
  Object.entries(groups ?? {})
    .filter(([, group]) => !isDamaged(group))
    .map(([id, { stages }]) => [id, JSON.stringify(stages?.map((stage) => stage.torque?.text ?? stage.angle?.text ?? ''))]);
