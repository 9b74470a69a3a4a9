import { defineConfig } from 'prisma/config';

/**
 * For Prisma's command line: `prisma <command> --config prisma/prisma.config.ts`. The service itself
 * reads DATABASE_URL through its own configuration and migrates without this file.
 */
export default defineConfig({
  schema: 'schema.prisma',
  migrations: { path: 'migrations' },
  datasource: { url: process.env.DATABASE_URL ?? '' },
});
