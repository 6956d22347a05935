import type { Finding } from '../findings/finding.js';
import type { LibraryFile } from '../library/document.js';
import type { Library } from '../library/library.js';
import { Few } from '../once.js';

/** What the plan and the figures of a job order find, and the names of other documents that decide it. */
export interface FoundInOrder {
  readonly findings: readonly Finding[];
  readonly asked: readonly string[];
}

/**
 * Whose order it is, and for which of many alike vehicles: keys of which only the rules that look at job orders alone, or at
 * what each document says, find anything. Each on a line of its own, and in letters and signs that mean no more than they say.
 */
const whose =
  /^(id|number|plate|unit|vin|serial|customer|complaint|confirmed|promised|technician|checker): +(["']?)(?:[\w(À-ÖØ-öø-ÿ][\w ,;:.()/+%&?!°–—À-ÖØ-öø-ÿ-]*)?\2 *$/gm;

/** How far it has come is of no account, only in what it is counted. */
const howFar = /^(odometer|hours): +(["']?)\d+ ?(\w+)\2 *$/gm;

/** Its day is of account where the calibration of a tool is over by then. */
const day = /^date: +(["']?)(\d{4}-\d\d-\d\d)\1 *$/gm;

/**
 * What decides what the plan and the figures of a job order find.
 * @param until the day up to which every tool of the shop is calibrated
 */
const decidingIn = (text: string, until: string): string =>
  text
    .replaceAll('\r', '')
    .replace(whose, '$1:')
    .replace(howFar, '$1: $3')
    .replace(day, (written, _quote, on) => (on <= until ? 'date:' : written));

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
    const deciding = decidingIn(file.text, this.until);
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
