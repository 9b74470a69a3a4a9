/** A drawing with words on each of its pages (ISO 32000-1, 7.5 and 9.4), and whatever the content stream says more. */
export function drawingPdf(pages: readonly string[], more = ''): Buffer {
  const objects = [
    '<< /Type /Catalog /Pages 2 0 R >>',
    `<< /Type /Pages /Kids [${pages.map((_, index) => `${4 + index * 2} 0 R`).join(' ')}] /Count ${pages.length} >>`,
    '<< /Type /Font /Subtype /Type1 /BaseFont /Helvetica >>',
    ...pages.flatMap((words, index) => {
      const stream = `${more}\n0.8 0 0 rg 0 692 612 100 re f\nBT 0 g /F1 24 Tf 72 400 Td (${words}) Tj ET`;
      return [
        `<< /Type /Page /Parent 2 0 R /MediaBox [0 0 612 792] /Resources << /Font << /F1 3 0 R >> >> /Contents ${5 + index * 2} 0 R >>`,
        `<< /Length ${stream.length} >>\nstream\n${stream}\nendstream`,
      ];
    }),
  ];
  let body = '%PDF-1.4\n';
  const places = objects.map((object, index) => {
    const place = body.length;
    body += `${index + 1} 0 obj\n${object}\nendobj\n`;
    return place;
  });
  const start = body.length;
  const lines = places.map((place) => `${String(place).padStart(10, '0')} 00000 n \n`).join('');
  const count = objects.length + 1;
  body += `xref\n0 ${count}\n0000000000 65535 f \n${lines}`;
  body += `trailer\n<< /Size ${count} /Root 1 0 R >>\nstartxref\n${start}\n%%EOF\n`;
  return Buffer.from(body, 'latin1');
}
