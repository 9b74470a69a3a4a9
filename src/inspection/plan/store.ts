import type { PrismaClient } from '../../database/generated/client.ts';
import { planContentSchema, usualPlan, type Plan } from './plan.ts';
import { namesOfPeople } from '../../people/names.ts';

type Reader = Pick<PrismaClient, 'inspectionPlan'>;

/** The plan in force, or the one with this number; the usual inspections where there is none. */
export async function planOf(reader: Reader, projectId: string, number?: number): Promise<Plan> {
  const row = await reader.inspectionPlan.findFirst({
    where: { projectId, ...(number === undefined ? {} : { number }) },
    orderBy: { number: 'desc' },
    select: { number: true, content: true },
  });
  if (row === null) return usualPlan;
  return { number: row.number, ...planContentSchema.parse(JSON.parse(row.content)) };
}

/** Who has jurisdiction, as the project names it. */
export async function jurisdictionOf(
  reader: Pick<PrismaClient, 'project'>,
  projectId: string,
): Promise<string> {
  const project = await reader.project.findUnique({
    where: { id: projectId },
    select: { jurisdiction: true },
  });
  return project?.jurisdiction ?? '';
}

/** Earlier plans, newest first: who changed what, and when. */
export async function planHistory(
  reader: Pick<PrismaClient, 'inspectionPlan' | 'person'>,
  projectId: string,
): Promise<{ number: number; words: string; byName: string; at: Date }[]> {
  const rows = await reader.inspectionPlan.findMany({
    where: { projectId },
    orderBy: { number: 'desc' },
    take: 100,
    select: { number: true, words: true, byId: true, at: true },
  });
  const names = await namesOfPeople(
    reader,
    rows.map((row) => row.byId),
  );
  return rows.map(({ byId, ...row }) => ({ ...row, byName: names.get(byId) ?? '' }));
}
