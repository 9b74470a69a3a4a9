import type { PrismaClient } from '../../database/generated/client.ts';
import type { RecordDeps } from '../use-case.ts';
import type { SetContent } from './content.ts';
import { readSet, type SetView } from './read.ts';

/** What a print in somebody's hand is worth today. */
export interface CheckedSet {
  readonly project: { readonly id: string; readonly name: string };
  readonly set: SetView;
  /** Current only where it is the newest of its opening and no approval in it was withdrawn. */
  readonly standing: 'current' | 'superseded' | 'flagged';
  /** The set in force, where that is a later one. */
  readonly newest: { readonly setId: string; readonly number: number } | null;
  /** What the set in force says otherwise than this one, in lines. */
  readonly changed: readonly string[];
}

/** What is asked by: the number of a set, or the beginning of its hash. */
export type Asked = { readonly number: number } | { readonly hash: string };

const MOST_FOUND = 20;

/** Reads what somebody typed or scanned: up to six digits are a number, eight hexadecimal digits or more a hash. */
export function readAsked(text: string): Asked | null {
  const plain = text
    .trim()
    .toLowerCase()
    .replace(/^set\s*/, '')
    .replaceAll(/[\s…]/g, '');
  if (/^[1-9]\d{0,5}$/.test(plain)) return { number: Number(plain) };
  return /^[0-9a-f]{8,64}$/.test(plain) ? { hash: plain } : null;
}

/**
 * The sets of a person's own projects that answer to a number or a hash, each with its standing now. Sets of other
 * projects are not found, as if they weren't there.
 */
export async function checkSets(
  deps: RecordDeps,
  person: { readonly personId: string; readonly name: string },
  asked: Asked,
): Promise<readonly CheckedSet[]> {
  const memberships = await deps.prisma.membership.findMany({
    where: { personId: person.personId, revokedAt: null },
    select: { role: true, project: { select: { id: true, name: true } } },
  });
  const found = await deps.prisma.approvedSet.findMany({
    where: {
      projectId: { in: memberships.map(({ project }) => project.id) },
      ...('hash' in asked ? { hash: { startsWith: asked.hash } } : { number: asked.number }),
    },
    orderBy: { issuedAt: 'desc' },
    take: MOST_FOUND,
    select: { id: true, projectId: true },
  });
  const checked: CheckedSet[] = [];
  for (const { id, projectId } of found) {
    const membership = memberships.find(({ project }) => project.id === projectId);
    if (membership === undefined) continue;
    const { role, project } = membership;
    const set = await readSet(deps, { ...person, role, projectId }, { setId: id });
    const newest = set.supersededBy === null ? null : await newestOf(deps.prisma, projectId, set.openingId);
    checked.push({
      project,
      set,
      // Both can be so: the withdrawn approval is the graver of the two, and the page says each.
      standing: set.flags.length > 0 ? 'flagged' : newest === null ? 'current' : 'superseded',
      newest: newest && { setId: newest.setId, number: newest.content.number },
      changed: newest === null ? [] : changedSince(set.content, newest.content),
    });
  }
  return checked;
}

async function newestOf(prisma: PrismaClient, projectId: string, openingId: string) {
  const row = await prisma.approvedSet.findFirst({
    where: { projectId, openingId },
    orderBy: { number: 'desc' },
    select: { id: true, content: true },
  });
  return row && { setId: row.id, content: JSON.parse(row.content) as SetContent };
}

/** What a later set holds otherwise, whatever came between them: items changed, added and left out, in its order. */
export function changedSince(was: SetContent, now: SetContent): string[] {
  const before = new Map([...was.bases, ...was.entries].map((one) => [one.itemId, one]));
  const lines: string[] = [];
  for (const one of [...now.bases, ...now.entries]) {
    const old = before.get(one.itemId);
    before.delete(one.itemId);
    if (old === undefined) lines.push(`${one.title} (${one.key}): added, version ${one.number}`);
    else if (old.versionId !== one.versionId) {
      lines.push(`${one.title} (${one.key}): version ${old.number} → ${one.number}`);
    }
  }
  for (const one of before.values()) lines.push(`${one.title} (${one.key}): no longer in it`);
  return lines;
}
