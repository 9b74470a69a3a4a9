import { randomUUID } from 'node:crypto';
import type { FindingResult, VisitKind, VisitOutcome } from '../../database/generated/client.ts';
import { answerCorrection, closeVisit, openVisit, recordFinding } from '../../inspection/visits/service.ts';
import { setForChecklist } from '../../inspection/store.ts';
import type { Scene } from '../pictures/photo.ts';
import type { Telling } from '../telling.ts';
import type { FileActs } from './files.ts';

export interface FoundWrong {
  /** Words in the title of the check. */
  readonly title: RegExp;
  readonly reason: string;
  readonly location: string;
}

export interface ToldVisit {
  readonly kind: VisitKind;
  readonly scene: Scene;
  readonly wrong?: readonly FoundWrong[];
  /** Checks of this visit that are looked at; all, where left out. */
  readonly looksAt?: (check: { readonly title: string; readonly key: string }) => boolean;
  readonly outcome: VisitOutcome | 'still open';
  readonly summary?: string;
  readonly portion?: string;
}

/** What the inspector finds, and what the contractor answers. */
export function visitActs({ deps, projectId, as }: Telling, openingId: string, files: FileActs) {
  return {
    async visit(told: ToldVisit): Promise<void> {
      const inspector = as('inspector');
      const { visitId } = await openVisit(deps, inspector, { openingId, visitKey: told.kind });
      const set = await deps.prisma.$transaction((tx) => setForChecklist(tx, projectId, openingId));
      const checks = await deps.prisma.check.findMany({
        where: { setId: set?.setId ?? '', visitKind: told.kind },
        orderBy: { ordinal: 'asc' },
        select: { id: true, key: true, title: true, photoRequired: true },
      });
      for (const check of checks) {
        if (told.looksAt?.(check) === false) continue;
        const wrong = told.wrong?.find(({ title }) => title.test(check.title));
        const result: FindingResult = wrong === undefined ? 'pass' : 'correction';
        const withPhoto = check.photoRequired || wrong !== undefined;
        await recordFinding(deps, inspector, {
          visitId,
          checkId: check.id,
          clientKey: randomUUID(),
          result,
          reason: wrong?.reason ?? '',
          location: wrong?.location ?? '',
          files: withPhoto ? [await files.committedPhoto(told.scene)] : [],
        });
      }
      if (told.outcome === 'still open') return;
      await closeVisit(deps, inspector, {
        visitId,
        outcome: told.outcome,
        portion: told.portion ?? '',
        summary: told.summary ?? '',
        signedName: inspector.name,
      });
    },

    /** The contractor says that the open corrections are done, with a photo each. */
    async answerCorrections(note: string, scene: Scene): Promise<void> {
      const open = await deps.prisma.finding.findMany({
        where: { projectId, visit: { openingId }, result: 'correction', answers: { none: {} } },
        orderBy: { at: 'asc' },
        select: { id: true },
      });
      for (const { id } of open) {
        const photo = await files.committedPhoto(scene);
        await answerCorrection(deps, as('contractor'), { findingId: id, note, files: [photo] });
      }
    },
  };
}
