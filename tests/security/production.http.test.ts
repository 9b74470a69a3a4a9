import { expect, it } from 'vitest';
import { startTestApp } from '../support/app.ts';

/** What is there for development alone. The image holds no tests and no benches either (scripts/Dockerfile). */
it('serves no page that is there for whoever builds pages', async () => {
  const answers = await Promise.all(
    ['production', 'development'].map(async (NODE_ENV) => {
      const test = await startTestApp({ NODE_ENV });
      try {
        return [
          NODE_ENV,
          (await test.visitor().get('/components')).statusCode,
          (await test.visitor().get('/sign-in')).statusCode,
        ];
      } finally {
        await test.close();
      }
    }),
  );
  expect(answers).toEqual([
    ['production', 404, 200],
    ['development', 200, 200],
  ]);
});
