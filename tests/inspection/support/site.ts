import { readItem } from '../../../src/record/versions/read.ts';
import type { Actor } from '../../../src/actor.ts';
import {
  demoBeam,
  demoCriteria,
  demoRows,
  demoSupports,
  demoSurvey,
} from '../../../src/demo/cinder-ferry.ts';
import type { ItemKind } from '../../../src/record/kinds/definition.ts';
import { createItem } from '../../../src/record/items/create.ts';
import { standingsOfOpening } from '../../../src/record/items/standings.ts';
import { markMany } from '../../../src/record/marks/service.ts';
import { createOpening } from '../../../src/record/openings/service.ts';
import { createProject, editProject } from '../../../src/record/projects/service.ts';
import { issueSet, previewSet } from '../../../src/record/sets/service.ts';
import { submitVersions } from '../../../src/record/submissions/service.ts';
import { asMember } from '../../../src/record/use-case.ts';
import { saveVersion } from '../../../src/record/versions/service.ts';
import type { LogStream } from '../../../src/web/app.ts';
import { startTestApp, type Client, type TestApp } from '../../support/app.ts';

/** A house with its four people, from the first survey to an issued set, for tests of what comes after. */
export interface Site {
  readonly test: TestApp;
  readonly projectId: string;
  readonly openingId: string;
  readonly contractor: Client;
  readonly engineer: Client;
  readonly inspector: Client;
  readonly owner: Client;
  /** Ids of the items, by title. */
  readonly items: Readonly<Record<string, string>>;
  /** The person as the services know them. */
  actor: (client: Client, role: Actor['role']) => Actor;
  /** A further item of the contractor's. */
  add: (kind: ItemKind, key: string, title: string, content: unknown) => Promise<void>;
  /** The contractor's next version of an item. */
  change: (title: string, content: unknown) => Promise<void>;
  /** Hands everything over, approves it and issues the next set; answers its number. */
  issue: () => Promise<number>;
  /** A line in the log that changes nothing else: what was put in by SQL alone is read from then on. */
  logOn: () => Promise<void>;
  /** The addresses below the project and below the opening. */
  readonly inProject: string;
  readonly inOpening: string;
}

export async function buildSite(
  environment: Readonly<Record<string, string>> = {},
  log?: LogStream,
): Promise<Site> {
  const test = await startTestApp(environment, log);
  const { deps } = test;
  const contractor = await test.person('Con Tractor');
  const project = {
    name: 'Den to box room',
    address: '12 Slipway Row',
    jurisdiction: 'Town',
    permitNumber: '',
  };
  let permits = 0;
  const { projectId } = await createProject(deps, contractor, project);
  const actor = (client: Client, role: Actor['role']): Actor => ({
    personId: client.personId,
    name: client.name,
    role,
    projectId,
  });
  const builder = actor(contractor, 'contractor');
  const { openingId } = await createOpening(deps, builder, { name: 'Den wall' });
  const items: Record<string, string> = {};
  const add = async (kind: ItemKind, key: string, title: string, content: unknown) => {
    const { item } = await createItem(deps, builder, {
      openingId: kind === 'criteria' ? null : openingId,
      kind,
      key,
      title,
      content,
    });
    items[title] = item.itemId;
  };
  await add('criteria', 'criteria', 'Criteria', demoCriteria);
  await add('survey', 'survey', 'Survey', demoSurvey);
  await add('beam', 'beam', 'Beam', demoBeam);
  for (const content of demoSupports) await add('support', content.end, `Support ${content.end}`, content);
  for (const { key, title, content } of demoRows) await add('fastening', key, title, content);

  const [engineer, inspector, owner] = await Promise.all([
    test.person('Eng Ineer'),
    test.person('In Spector'),
    test.person('Ow Ner'),
  ]);
  await test.join(engineer, projectId, 'engineer');
  await test.join(inspector, projectId, 'inspector');
  await test.join(owner, projectId, 'owner');
  const judge = actor(engineer, 'engineer');

  return {
    test,
    projectId,
    openingId,
    contractor,
    engineer,
    inspector,
    owner,
    items,
    actor,
    add,
    inProject: `/projects/${projectId}`,
    inOpening: `/projects/${projectId}/openings/${openingId}`,
    async change(title, content) {
      const itemId = items[title] ?? '';
      const { newest } = await readItem(deps, builder, { itemId });
      await saveVersion(deps, builder, {
        itemId,
        expectedNumber: newest?.number ?? 0,
        content,
        reason: 'changed',
      });
    },
    async logOn() {
      const permitNumber = `BP-${(permits += 1)}`;
      await editProject(deps, actor(contractor, 'contractor'), { ...project, permitNumber });
    },
    async issue() {
      await submitVersions(deps, builder, { openingId });
      const standings = await asMember(deps, judge, 'item.read', (tx) =>
        standingsOfOpening(tx, deps.kinds, { projectId }, openingId),
      );
      const waiting = standings.flatMap(({ state }) =>
        state.is === 'awaiting mark' ? [{ ...state.version, expectedMarkNumber: 0 }] : [],
      );
      await markMany(deps, judge, { versions: waiting, word: 'approved', reason: 'Looked at by hand' });
      const preview = await previewSet(deps, judge, { openingId });
      const { number } = await issueSet(deps, judge, {
        openingId,
        expectedLastNumber: preview.expectedLastNumber,
        entries: preview.content.entries,
        confirmedQuestions: [],
      });
      return number;
    },
  };
}
