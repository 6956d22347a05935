import type { Gap } from '../findings/control.js';
import type { Fix, Related, Severity } from '../findings/finding.js';
import type { LibraryFile } from '../library/document.js';
import type { Span } from '../source/source.js';
import type { RuleContext } from './context.js';
import type { Shared } from './shared.js';

/**
 * A rule: one file, with its words, its check and its examples. `baywright explain` prints the words; the tests run the
 * examples: the bad one gives exactly this finding at the line marked `# <-`, the good one gives none.
 */
export interface Rule {
  /** `family/what`, public and stable. */
  readonly name: string;
  readonly severity: Severity;
  /**
   * An error that leaves a figure of the sheet out, or to a guess, or with which no job can be planned: nobody can allow it, as
   * nobody can what could not be read.
   */
  readonly leavesGap?: Gap;
  /**
   * All that its check goes through; documents that have none of these are passed over. Where that is jobs, or the subjects, it
   * looks at each document by itself.
   */
  readonly looksAt?: 'subjects' | 'fasteners' | 'vehicles' | 'jobs' | 'catalogues' | 'troubled' | 'phrased';
  /** What it finds, one sentence. */
  readonly finds: string;
  /** Why it matters in the bay. */
  readonly why: string;
  readonly mend: string;
  /** A document, or several by path; they stand in the small example library. */
  readonly bad: Example;
  readonly good: Example;
  /** Looks at one document at a time. Absent where a stage before the rules (reading, schema, quantities, compiling a job) reports it. */
  readonly check?: (context: RuleContext, tell: Tell) => void;
  /**
   * Compares documents with each other, by what is known of them without reading them again; it reads only those of which it
   * tells. Of files that nobody wants to be told of it need tell nothing.
   */
  readonly compare?: (shared: Shared, tell: Tell, isWanted: (one: LibraryFile) => boolean) => void;
}

/** How a rule says what it found. */
export type Tell = (found: Found) => void;

export type Example = string | Readonly<Record<string, string>>;

export interface Found {
  readonly span: Span;
  /** What is wrong and what to do. */
  readonly message: string;
  /** What it is about, where one place may lack several things: of the same it is told once. */
  readonly about?: string;
  readonly related?: readonly Related[];
  readonly severity?: Severity;
  readonly fix?: Fix | undefined;
}
