import sharp from 'sharp';

/** A photo of its own colour: different bytes for different calls. */
export async function testPhoto(red: number): Promise<{ name: string; mimeType: string; buffer: Buffer }> {
  const buffer = await sharp({
    create: { width: 640, height: 480, channels: 3, background: { r: red, g: 120, b: 90 } },
  })
    .jpeg()
    .toBuffer();
  return { name: `photo-${red}.jpg`, mimeType: 'image/jpeg', buffer };
}

/** The smallest PDF with a page (ISO 32000-1, 7.5). */
export function testPdf(): { name: string; mimeType: string; buffer: Buffer } {
  const objects = [
    '<< /Type /Catalog /Pages 2 0 R >>',
    '<< /Type /Pages /Kids [3 0 R] /Count 1 >>',
    '<< /Type /Page /Parent 2 0 R /MediaBox [0 0 612 792] >>',
  ];
  let body = '%PDF-1.4\n';
  const places: number[] = [];
  objects.forEach((object, index) => {
    places.push(body.length);
    body += `${index + 1} 0 obj\n${object}\nendobj\n`;
  });
  const start = body.length;
  body += `xref\n0 4\n0000000000 65535 f \n${places.map((place) => `${String(place).padStart(10, '0')} 00000 n \n`).join('')}`;
  body += `trailer\n<< /Size 4 /Root 1 0 R >>\nstartxref\n${start}\n%%EOF\n`;
  return { name: 'A-101.pdf', mimeType: 'application/pdf', buffer: Buffer.from(body, 'latin1') };
}
