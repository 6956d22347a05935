import os from 'node:os';
import path from 'node:path';
import type { Worker } from 'node:worker_threads';
import { isWithoutThreads } from '../world/reason.js';
import { CannotRun } from '../world/world.js';
import { packageFolder } from './package-folder.js';
import type { Delivery, Order, Outputs, Print, Refused, ToMake } from './paper.js';
import { inAll } from './room.js';

/** A thread opens fonts of its own and learns to be fast anew: for fewer jobs than this each it does not pay. */
const fewestEach = 3;
/** More threads than this wait for the disk. */
const mostThreads = 8;
/** What a thread takes in a container, bytes. */
const threadSize = 100 * 1024 * 1024;

export interface Ordered {
  /** Null where it lies there already. */
  readonly toMake: ToMake | null;
}

interface Printed<T> {
  readonly order: T;
  /** Null where they lie there already, or the job cannot be drawn. */
  readonly outputs: Outputs | null;
  /** Why it cannot be drawn. */
  readonly refused: string | null;
}

const delivery = <T>(order: T, made: Outputs | Refused | null): Printed<T> =>
  made !== null && 'refused' in made ? { order, outputs: null, refused: made.refused } : { order, outputs: made, refused: null };

/**
 * The outputs of jobs, in their order. Many jobs are made by several threads; jobs are taken only as they are needed, so
 * memory stays the same over any number.
 * @param most how many there are at most
 */
export async function* printed<T extends Ordered>(orders: Iterable<T>, most: number): AsyncGenerator<Printed<T>> {
  const wanted = Math.min(mostThreads, os.availableParallelism(), Math.floor(most / fewestEach));
  const count = wanted < 2 ? wanted : Math.min(wanted, Math.floor(inAll() / threadSize));
  if (count < 2) {
    const print = printerHere();
    for (const order of orders) yield delivery(order, order.toMake && (await print(order.toMake)));
    return;
  }
  const pool = new Pool(count, (await import('node:worker_threads')).Worker);
  try {
    const ahead: Promise<Printed<T>>[] = [];
    for (const order of orders) {
      const made = order.toMake ? pool.print(order.toMake) : Promise.resolve(null);
      const next = made.then((one) => delivery(order, one));
      // It is waited for in its turn; until then nobody hears that it failed.
      next.catch(() => undefined);
      ahead.push(next);
      const first = ahead.length > 2 * count ? ahead.shift() : undefined;
      if (first) yield await first;
    }
    for (const made of ahead) yield await made;
  } finally {
    pool.close();
  }
}

/** Makes outputs in this thread. What that needs is loaded when there is something to make. */
function printerHere(): Print {
  let print: Print | undefined;
  return async (toMake) => {
    print ??= (await import('./paper.js')).printer();
    return print(toMake);
  };
}

/** What a thread runs: the bundle of paper, as the engine has it compiled. */
const program = "const { parentPort, workerData } = require('node:worker_threads'); require(workerData).bundled('paper').serve(parentPort)";

/** What waits for the outputs of an order. */
interface Waiting {
  readonly done: (made: Outputs | Refused) => void;
  readonly failed: (error: Error) => void;
}

/**
 * Threads that make the outputs of jobs; each takes the next job when it has made one. Where the system lets none begin, as
 * where too many files are open, or Node may start none, all is made in this thread.
 */
class Pool {
  /** What each thread is making; null where it has nothing to do. */
  private readonly workers = new Map<Worker, Order | null>();
  private readonly orders: Order[] = [];
  private readonly open = new Map<number, Waiting>();
  private readonly printHere = printerHere();
  private isHere = false;
  private ordered = 0;

  /**
   * @param most so many at once
   * @param Thread what makes a thread: to load it takes long enough for a build of one job to do without
   */
  constructor(
    private most: number,
    private readonly Thread: typeof Worker,
  ) {}

  print: Print = (toMake) =>
    new Promise((done, failed) => {
      const n = this.ordered++;
      this.open.set(n, { done, failed });
      this.orders.push({ ...toMake, n });
      this.hand();
    });

  close(): void {
    for (const worker of this.workers.keys()) worker.postMessage(null);
  }

  private begin(): void {
    const worker = new this.Thread(program, {
      eval: true,
      argv: process.argv.slice(2),
      workerData: path.join(packageFolder, 'dist/bundle/start.cjs'),
    });
    worker.on('message', (delivery: Delivery) => this.delivered(worker, delivery));
    worker.on('error', (error) => this.lost(worker, error));
    this.workers.set(worker, null);
  }

  private hand(): void {
    const idle = [...this.workers.values()].filter((making) => making === null).length;
    try {
      for (let more = this.orders.length - idle; more > 0 && this.workers.size < this.most; more--) this.begin();
    } catch (error) {
      if (!isWithoutThreads(error)) throw error;
      this.most = this.workers.size;
    }
    if (this.workers.size === 0) void this.makeHere();
    for (const [worker, making] of this.workers) {
      if (making) continue;
      const order = this.orders.shift();
      if (!order) return;
      this.workers.set(worker, order);
      worker.postMessage(order);
    }
  }

  private delivered(worker: Worker, { n, made, error }: Delivery): void {
    const waiting = this.open.get(n);
    this.open.delete(n);
    if (made) waiting?.done(made);
    else waiting?.failed(error?.name === 'CannotRun' ? new CannotRun(error.message) : new Error(error?.message ?? 'no outputs'));
    this.workers.set(worker, null);
    this.hand();
  }

  /** What a thread that the system did not let begin should have made is made by another. */
  private lost(worker: Worker, error: Error): void {
    if (!isWithoutThreads(error)) {
      for (const { failed } of this.open.values()) failed(error);
      return;
    }
    const order = this.workers.get(worker);
    this.workers.delete(worker);
    this.most = this.workers.size;
    if (order) this.orders.unshift(order);
    this.hand();
  }

  /** Makes all that is ordered, one after the other. */
  private async makeHere(): Promise<void> {
    if (this.isHere) return;
    this.isHere = true;
    for (let order = this.orders.shift(); order; order = this.orders.shift()) {
      const waiting = this.open.get(order.n);
      this.open.delete(order.n);
      try {
        waiting?.done(await this.printHere(order));
      } catch (error) {
        waiting?.failed(error instanceof Error ? error : new Error(String(error)));
      }
    }
    this.isHere = false;
  }
}
