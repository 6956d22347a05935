import type { MessagePort } from 'node:worker_threads';
import type { CompiledJob } from '../schema/generated/compiled-job.js';
import { leftOpenIn, type OutputOptions, outputsOf } from '../emit/outputs.js';
import { type Faces, NotDrawn, openFaces } from '../emit/pdf/fonts.js';
import { readFonts } from '../world/fonts.js';
import { packageFolder } from './package-folder.js';

/** What only `build` needs, loaded when there is a job to print. */

export type Outputs = ReadonlyMap<string, Uint8Array | string>;
/** Why a job cannot be drawn, and what to do. */
export interface Refused {
  readonly refused: string;
}
export type Print = (toMake: ToMake) => Promise<Outputs | Refused>;

/** A compiled job, and what is made of it. */
export interface ToMake {
  readonly job: CompiledJob;
  readonly options: OutputOptions;
}

let known: Faces | undefined;
const faces = (): Faces => {
  known ??= openFaces(readFonts(`${packageFolder}/dist/fonts`));
  return known;
};

/** Makes the outputs of jobs. The fonts are opened once. */
export function printer(): Print {
  const opened = faces();
  return async ({ job, options }) => {
    try {
      return outputsOf(job, opened, options);
    } catch (error) {
      if (error instanceof NotDrawn) return { refused: error.message };
      throw error;
    }
  };
}

/** What a record of a job leaves open. */
export function reviewed({ job, options: { record } }: ToMake): readonly string[] {
  if (!record) return [];
  return leftOpenIn(job, faces().measure, record);
}

/** A job for a thread, and what comes back. */
export interface Order extends ToMake {
  readonly n: number;
}

export interface Delivery {
  readonly n: number;
  readonly made?: Outputs | Refused;
  readonly error?: { readonly name: string; readonly message: string };
}

/** In a thread: makes the outputs of jobs that are sent, until no more will be. */
export function serve(port: MessagePort): void {
  const print = printer();
  port.on('message', async (order: Order | null) => {
    if (order === null) {
      port.close();
      return;
    }
    const { n } = order;
    try {
      port.postMessage({ n, made: await print(order) } satisfies Delivery);
    } catch (error) {
      const { name, message } = error instanceof Error ? error : new Error(String(error));
      port.postMessage({ n, error: { name, message } } satisfies Delivery);
    }
  });
}
