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

/** Writes the object as pdfkit does, its stream as it was packed before where it says the same. */
function finalize(this: Reference): void {
  if (this.compress && this.buffer.length > 0) {
    const said = Buffer.concat(this.buffer);
    this.buffer = [once(packed, said.toString('latin1'), () => zlib.deflateSync(said))];
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
