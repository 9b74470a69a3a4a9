import { randomBytes } from 'node:crypto';

const MEGABYTE = 1024 * 1024;

/** A PDF with one empty page, and an object of so many megabytes that no page uses and no program makes smaller. */
export function* largePdf(megabytes: number): Generator<Buffer> {
  const places: number[] = [];
  let length = 0;
  const bytes = (part: string | Buffer): Buffer => {
    const buffer = typeof part === 'string' ? Buffer.from(part, 'latin1') : part;
    length += buffer.length;
    return buffer;
  };
  yield bytes('%PDF-1.4\n');
  for (const [index, object] of [
    '<< /Type /Catalog /Pages 2 0 R >>',
    '<< /Type /Pages /Kids [3 0 R] /Count 1 >>',
    '<< /Type /Page /Parent 2 0 R /MediaBox [0 0 612 792] >>',
  ].entries()) {
    places.push(length);
    yield bytes(`${index + 1} 0 obj\n${object}\nendobj\n`);
  }
  places.push(length);
  const stuffing = randomBytes(MEGABYTE);
  yield bytes(`4 0 obj\n<< /Length ${megabytes * MEGABYTE} >>\nstream\n`);
  for (let written = 0; written < megabytes; written += 1) yield bytes(stuffing);
  yield bytes('\nendstream\nendobj\n');
  const start = length;
  const lines = places.map((place) => `${String(place).padStart(10, '0')} 00000 n \n`).join('');
  yield bytes(
    `xref\n0 5\n0000000000 65535 f \n${lines}trailer\n<< /Size 5 /Root 1 0 R >>\nstartxref\n${start}\n%%EOF\n`,
  );
}
