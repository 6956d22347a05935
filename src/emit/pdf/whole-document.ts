import PDFDocument from 'pdfkit';

/** A document that is kept until all of it is written: a stream of Node's would hand on each of its thousands of pieces alone. */
export class WholeDocument extends PDFDocument {
  // Not set here: pdfkit writes the head while it makes the document.
  declare private wholeParts: Uint8Array[] | undefined;
  declare private wholeText: string | undefined;
  declare private isWhole: boolean | undefined;
  /** How much has been written, as pdfkit counts it. */
  declare private _offset: number;

  /** What pdfkit writes with: bytes, or a line with one byte a letter. */
  _write(data: Uint8Array | string): void {
    if (typeof data === 'string') {
      this.wholeText = `${this.wholeText ?? ''}${data}\n`;
      this._offset += data.length + 1;
      return;
    }
    this.finishText().push(data);
    this._offset += data.length;
  }

  /** Null after the last piece, and nothing else, as the pieces do not come here. */
  override push(data: unknown): boolean {
    this.isWhole = data === null;
    return true;
  }

  /** @throws where the document has not ended */
  whole(): Buffer {
    if (!this.isWhole) throw new Error('a document was not written to its end');
    return Buffer.concat(this.finishText());
  }

  private finishText(): Uint8Array[] {
    this.wholeParts ??= [];
    if (this.wholeText) this.wholeParts.push(Buffer.from(this.wholeText, 'latin1'));
    this.wholeText = '';
    return this.wholeParts;
  }
}
