/** Nobody ever changes it: to wait for it is to sleep. */
const moment = new Int32Array(new SharedArrayBuffer(4));

/** Waits, with nothing else going on. @param ms how long */
export const pause = (ms: number): void => void Atomics.wait(moment, 0, 0, ms);
