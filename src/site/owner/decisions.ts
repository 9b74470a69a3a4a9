import type { PrismaClient } from '../../database/generated/client.ts';
import { roleMay } from '../../people/permissions.ts';
import type { Role } from '../../people/roles.ts';
import { salvageOfOpening, type SalvageRow } from '../salvage/store.ts';
import { ownerThreads, type OwnerThread } from './words.ts';

/** What the owner was asked to decide, and what the owner asked. */
export interface OwnersMatters {
  /** Threads that the contractor began and that wait for the owner, the newest first. */
  readonly decisions: readonly OwnerThread[];
  /** Those that the owner has answered. */
  readonly decided: readonly OwnerThread[];
  /** What comes out of the wall, can be used again, and waits for the owner's word. */
  readonly undecided: readonly SalvageRow[];
  /** Threads that the owner began. */
  readonly questions: readonly OwnerThread[];
}

/** For owner and contractor; null for everybody else, whom what the two say to each other does not concern. */
export async function ownersMattersOf(
  prisma: Pick<PrismaClient, 'ownerWord' | 'person' | 'salvageLine'>,
  role: Role,
  projectId: string,
  openingId: string,
): Promise<OwnersMatters | null> {
  if (!roleMay(role, 'owner.say')) return null;
  const [threads, salvage] = await Promise.all([
    ownerThreads(prisma, projectId, openingId),
    salvageOfOpening(prisma, projectId, openingId),
  ]);
  return {
    decisions: threads.filter(({ isDecision, waitsOn }) => isDecision && waitsOn !== null),
    decided: threads.filter(({ isDecision, waitsOn }) => isDecision && waitsOn === null),
    undecided: salvage.filter(({ decision, end }) => decision === null && end === null),
    questions: threads.filter((thread) => !thread.isDecision),
  };
}
