import type { PrismaClient } from '../../database/generated/client.ts';
import { minuteText } from '../../house-time.ts';
import { stopToken } from '../choice/stop-token.ts';
import type { Words } from './message.ts';
import type { LetterRow } from './send.ts';
import { bodies } from './templates.ts';

interface Line {
  readonly line: string;
  /** When it happened, by the clock of the house. */
  readonly when: string;
  readonly url: string;
}

/**
 * A letter of what others did: every line that was gathered into it, by project. Looked at again right before sending:
 * a line of a project that the person has left meanwhile, or has another role in, stays out.
 */
export async function newsLetter(
  prisma: PrismaClient,
  { publicUrl, secret }: { readonly publicUrl: string; readonly secret: string },
  row: LetterRow,
): Promise<Words | null> {
  if (row.personId === null) return null;
  const person = await prisma.person.findUnique({
    where: { id: row.personId },
    select: {
      name: true,
      email: true,
      closedAt: true,
      mailChoice: true,
      memberships: { where: { revokedAt: null }, select: { projectId: true, role: true } },
    },
  });
  if (person?.closedAt !== null || person.email === null || person.mailChoice === 'none') return null;
  const news = await prisma.news.findMany({
    where: { letterId: row.id },
    orderBy: [{ createdAt: 'asc' }, { projectId: 'asc' }, { seq: 'asc' }],
    include: { project: { select: { name: true, timeZone: true } } },
  });
  const roles = new Map(person.memberships.map(({ projectId, role }) => [projectId, role]));
  const projects = new Map<string, { name: string; url: string; lines: Line[] }>();
  for (const { projectId, project, role, line, path, createdAt } of news) {
    if (roles.get(projectId) !== role) continue;
    const group = projects.get(projectId) ?? {
      name: project.name,
      url: `${publicUrl}/projects/${projectId}`,
      lines: [],
    };
    const when = minuteText(createdAt, project.timeZone);
    group.lines.push({ line, when, url: `${publicUrl}${path}` });
    projects.set(projectId, group);
  }
  const groups = [...projects.values()];
  const lines = groups.flatMap((group) => group.lines);
  const [first] = lines;
  if (first === undefined) return null;
  const daily = row.kind === 'daily';
  const stopUrl = `${publicUrl}/mail/stop/${stopToken(secret, row.personId)}`;
  return {
    to: { name: person.name, address: person.email },
    subject: subjectOf(
      daily,
      lines,
      groups.map(({ name }) => name),
    ),
    ...bodies('news', { name: person.name, groups, daily, stopUrl, choiceUrl: `${publicUrl}/account/mail` }),
    stopUrl,
  };
}

function subjectOf(daily: boolean, lines: readonly Line[], names: readonly string[]): string {
  const where = names.length === 1 ? `${names[0] ?? ''}: ` : '';
  if (lines.length === 1 && !daily) return `${where}${lines[0]?.line ?? ''}`;
  return `${where}${lines.length} ${lines.length === 1 ? 'piece' : 'pieces'} of news${daily ? ' of the day' : ''}`;
}
