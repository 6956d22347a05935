/** What pdfkit 0.20 takes and its types do not say yet. */
declare namespace PDFKit.Mixins {
  interface StructureElementOptions {
    /** Which cells a header cell heads. */
    scope?: 'Column' | 'Row' | 'Both';
    /** Left, top, right and bottom of a figure on its page. */
    bbox?: readonly [number, number, number, number];
  }
}
