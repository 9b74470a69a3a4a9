import type { FastifyRequest } from 'fastify';

/** Of one person, wherever they sit: in a session left open the password would be guessed at. */
export const ofOnePerson = {
  max: 10,
  timeWindow: '5 minutes',
  keyGenerator: (request: FastifyRequest) => request.person?.personId ?? request.ip,
} as const;
