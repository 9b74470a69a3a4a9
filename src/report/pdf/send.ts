import type { FastifyReply } from 'fastify';

/** Sends a PDF to be looked at in the browser, under a name of ours when it is kept. */
export function sendPdf(reply: FastifyReply, pdf: Buffer, name: string) {
  return reply
    .type('application/pdf')
    .header('content-disposition', `inline; filename="${name}.pdf"`)
    .header('cache-control', 'private, no-store')
    .header('x-content-type-options', 'nosniff')
    .send(pdf);
}
