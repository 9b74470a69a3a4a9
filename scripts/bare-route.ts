import fastify from 'fastify';
import { createDatabase } from '../src/database/client.ts';

/** What `scripts/bench share` holds the pages against: Fastify, one Prisma query, JSON. Nothing of the service. */
const { prisma } = createDatabase(process.env.DATABASE_URL ?? '');
const { id } = await prisma.project.findFirstOrThrow({ select: { id: true } });
const app = fastify();
app.get('/', () => prisma.project.findUnique({ where: { id } }));
await app.listen({ port: Number(process.env.PORT) });
console.log('ready');
