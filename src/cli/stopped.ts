import type { Finding } from '../findings/finding.js';
import { placeOf } from '../source/source.js';
import { harmless } from './harmless.js';
import { blocksOf } from './reporters/terminal.js';

/** Places that are named where what stands there was told before. */
const mostPlaces = 5;

/** A draft has the same letters; a screen has all. */
const onAScreen = ' Mend them, or make a page for a screen with --format html.';

/** That a job cannot be drawn. @param why in words that end with what to do */
export const notDrawn = (id: string, why: string): string => `${harmless(id)} is not printed. ${harmless(why)}\n\n`;

/** What stops jobs, in words for who waits for their paper: each finding once, however many jobs it stops. */
export class Stopped {
  private readonly told = new Set<string>();
  /** Of jobs that nothing new stops one line is told each, and lines of such jobs follow each other. */
  private inLines = false;

  constructor(
    private readonly colour: boolean,
    /** Added where errors are told. */
    private readonly hint: string,
    /** Whether the file of a name could not be read, so that it may be any. */
    private readonly isUnread: (path: string) => boolean,
  ) {}

  /** @param errors none where the job could not even be planned */
  says(id: string, errors: readonly Finding[]): string {
    const fresh = errors.filter((one) => !this.told.has(keyOf(one)));
    const before = errors.filter((one) => this.told.has(keyOf(one)));
    for (const one of fresh) this.told.add(keyOf(one));
    const name = `${harmless(id)} is not printed`;
    if (fresh.length === 0 && before.length > 0) {
      this.inLines = true;
      return `${name} either: the ${before.length === 1 ? 'error' : 'errors'} at ${placesOf(before)} ${before.length === 1 ? 'stops' : 'stop'} it too.\n`;
    }
    const gap = this.inLines ? '\n' : '';
    this.inLines = false;
    if (fresh.length > 0) {
      const also = before.length > 0 ? `, also ${before.length === 1 ? 'the one' : 'those'} told before, at ${placesOf(before)}` : '';
      const why = fresh.some(({ span }) => this.isUnread(span.file.path)) ? ' A file that cannot be read may be one that a job needs.' : '';
      const hint = errors.every(({ rule }) => rule === 'paper/no-character') ? onAScreen : this.hint;
      return `${gap}${[...blocksOf(fresh, this.colour)].join('')}${name}: errors stop paper${also}.${why}${hint}\n\n`;
    }
    return `${gap}${name}: it could not be planned; see \`baywright check\`.\n\n`;
  }
}

const keyOf = ({ rule, message, span }: Finding): string => `${rule} ${span.file.path} ${span.start} ${message}`;

function placesOf(errors: readonly Finding[]): string {
  const places = errors.slice(0, mostPlaces).map(({ span }) => {
    const { line, column } = placeOf(span.file, span.start);
    return `${harmless(span.file.path)}:${line}:${column}`;
  });
  const more = errors.length - places.length;
  if (more > 0) places.push(`${more} more`);
  const last = places.pop() ?? '';
  return places.length > 0 ? `${places.join(', ')} and ${last}` : last;
}
