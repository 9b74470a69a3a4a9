import { testPassword, type Client, type TestApp } from '../../support/app.ts';

/** The address that somebody signs in with. */
export async function emailOf({ deps }: TestApp, client: Client): Promise<string> {
  const { email } = await deps.prisma.person.findUniqueOrThrow({ where: { id: client.personId } });
  return email!;
}

/** The session is gone; the browser keeps its pages and its other cookies. */
export async function expire({ deps }: TestApp, client: Client): Promise<void> {
  await deps.prisma.session.deleteMany({ where: { personId: client.personId } });
}

/** Signs somebody in with the browser of another. */
export async function signInAs(test: TestApp, browser: Client, person: Client, next: string) {
  await browser.get(`/sign-in?next=${encodeURIComponent(next)}`);
  return browser.post('/sign-in', { email: await emailOf(test, person), password: testPassword, next });
}

/** Where signing in leads back to, by the address of the sign-in page. */
export const nextOf = (location: unknown) =>
  new URL(String(location), 'http://here').searchParams.get('next') ?? '';

/** Something done while the session is gone; then it is there again, as after signing in. */
export async function whileEnded<Done>(
  { deps: { prisma } }: TestApp,
  { personId }: Client,
  work: () => Promise<Done>,
): Promise<Done> {
  const sessions = await prisma.session.findMany({ where: { personId } });
  await prisma.session.deleteMany({ where: { personId } });
  const done = await work();
  await prisma.session.createMany({ data: sessions });
  return done;
}
