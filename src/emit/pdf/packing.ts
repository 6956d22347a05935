import zlib from 'node:zlib';
import { Few, once } from '../../once.js';

/** What pdfkit keeps of an object of the document: the parts of its stream until it is written, and whether that is to be packed. */
interface Reference {
  buffer: Uint8Array[];
  compress: boolean;
  finalize(): void;
}

interface Document {
  ref(data?: object): object;
}

/** Of the streams that were packed last, by what they say. */
const packed = new Few<string, Buffer>(16);

/** Data that came packed. */
const ready = new WeakSet<Uint8Array>();

/** Notes of data that it is packed, and goes into a document as it is. */
export function alreadyPacked<T extends Uint8Array>(data: T): T {
  ready.add(data);
  return data;
}

function packedOf(parts: readonly Uint8Array[]): Uint8Array {
  const [first] = parts;
  if (first && parts.length === 1 && ready.has(first)) return first;
  const said = Buffer.concat(parts);
  return once(packed, said.toString('latin1'), () => zlib.deflateSync(said));
}

/** Writes the object as pdfkit does, its stream as it was packed before where it says the same. */
function finalize(this: Reference): void {
  if (this.compress && this.buffer.length > 0) {
    this.buffer = [packedOf(this.buffer)];
    this.compress = false;
  }
  Object.getPrototypeOf(this).finalize.call(this);
}

/**
 * Does something that writes what other documents carry too, such as the fonts, or the job as data: to pack that anew for
 * each takes as long as a page.
 */
export function packingOnce(document: PDFKit.PDFDocument, work: () => void): void {
  const maker = document as unknown as Document;
  const { ref } = maker;
  maker.ref = (data) => Object.assign(ref.call(document, data), { finalize });
  try {
    work();
  } finally {
    maker.ref = ref;
  }
}
