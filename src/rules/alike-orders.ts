import type { Finding } from '../findings/finding.js';
import type { JobDocument, LibraryFile } from '../library/document.js';
import type { Library } from '../library/library.js';
import { Few } from '../once.js';
import { isQuantity } from '../quantity/quantity.js';

/** What the plan and the figures of a job order find, and the names of other documents that decide it. */
export interface FoundInOrder {
  readonly findings: readonly Finding[];
  readonly asked: readonly string[];
}

/**
 * Whose order it is, and for which of many alike vehicles: of these only the rules that look at job orders alone, or at what
 * each document says, find anything.
 */
const whose: ReadonlySet<string> = new Set([
  ...['id', 'number', 'promised', 'unit', 'plate', 'vin', 'serial', 'customer', 'complaint', 'confirmed', 'technician', 'checker'],
  ...['not-wanted', 'codes'],
]);

/** How far is of no account, only in what it is counted. */
const howFar: ReadonlySet<string> = new Set(['odometer', 'hours', 'road-test']);

/**
 * What decides what the plan and the figures of a job order find.
 * @param until the day up to which every tool of the shop is calibrated
 */
function decidingIn(job: JobDocument, until: string): string {
  const deciding = Object.entries(job).map(([key, value]: [string, unknown]): readonly unknown[] => {
    if (whose.has(key)) return [key];
    // A day is of account where the calibration of a tool is over by then.
    if (key === 'date' && String(value) <= until) return [key];
    if (howFar.has(key) && isQuantity(value)) return [key, value.unit.symbol];
    // How it was told is not.
    if (key === 'features') return [key, Object.entries(job.features ?? {}).map(([name, { is }]) => [name, is])];
    if (key === 'access') return [key, job.access?.map(({ operation, factor }) => [operation, factor])];
    return [key, value];
  });
  return JSON.stringify(deciding, (_, value: unknown) => (isQuantity(value) ? value.text : value));
}

/** The day up to which every tool of a shop is calibrated, as far as it says. */
function calibratedUntil(shop: Library['shop']): string {
  const [first = endOfTime] = Object.values(shop?.tools ?? {})
    .flatMap((tool) => tool.due ?? [])
    .sort();
  return first;
}

const endOfTime = '9999-12-31';

/** A fleet has the same work done on many vehicles of one kind: what was found in one order holds for all that are alike. */
export class AlikeOrders {
  private readonly known = new Few<string, FoundInOrder>(most);
  private readonly until: string;

  constructor({ shop }: Pick<Library, 'shop'>) {
    this.until = calibratedUntil(shop);
  }

  /** @param find looks at an order of which no other that is alike is known */
  foundIn({ document, file, findings }: LibraryFile, find: () => FoundInOrder): FoundInOrder {
    // What could not be read says nothing of others.
    if (document?.kind !== 'job' || findings.length > 0) return find();
    const deciding = decidingIn(document, this.until);
    const known = this.known.get(deciding);
    if (known) return known;
    const found = find();
    // What is told at a place in this order stands at another place in each of the others.
    const isHere = ({ span }: Pick<Finding, 'span'>) => span.file.path === file.path;
    if (!found.findings.some((one) => isHere(one) || one.related?.some(isHere) || one.fix?.edits.some(isHere)))
      this.known.set(deciding, found);
    return found;
  }
}

/** A shop has a few hundred kinds of order. */
const most = 2000;
