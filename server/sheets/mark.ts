/**
 * What says of a file that this tool made it, so that making it again may take its place. Each kind of file carries it
 * where its readers ignore it.
 */

/** Who made it: `Producer` of a PDF, `generator` of an HTML page. */
export const producer = 'Storypole';

/** In words: a comment of SVG and DXF, and that of a ZIP. */
export const madeBy = 'Made by Storypole';

/** Of a ZIP (an XLSX file is one), with the mark as its comment. What is no ZIP, or has a comment, stays as it is. */
export function withZipMark(zip: Uint8Array): Uint8Array {
  // The end of the central directory, without a comment: APPNOTE.TXT of ZIP, 4.3.16.
  const end = zip.length - 22;
  const view = new DataView(zip.buffer, zip.byteOffset, zip.byteLength);
  if (end < 0 || view.getUint32(end, true) !== 0x06054b50 || view.getUint16(end + 20, true) !== 0) return zip;
  const comment = new TextEncoder().encode(madeBy);
  const marked = new Uint8Array(zip.length + comment.length);
  marked.set(zip);
  marked.set(comment, zip.length);
  new DataView(marked.buffer).setUint16(end + 20, comment.length, true);
  return marked;
}
