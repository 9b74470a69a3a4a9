import type { Actor } from '../../actor.ts';
import type { Load } from '../../engineering/loads/load.ts';
import { prepareBeam } from '../../engineering/proposal/beam-actions.ts';
import type { Criteria } from '../../engineering/proposal/criteria.ts';
import type { Beam } from '../../engineering/proposal/design.ts';
import { searchBeams, type Candidate } from '../../engineering/proposal/search/search-beams.ts';
import type { Survey } from '../../engineering/proposal/survey.ts';
import { formatQuantity, qty, unlessRefused } from '../../engineering/trace/index.ts';
import { formatFeetInches, formatInches } from '../../engineering/units/index.ts';
import { dayText } from '../../house-time.ts';
import { NotFound } from '../../problems.ts';
import { canonicalJson, sha256Hex } from '../../record/canonical.ts';
import { missedWords } from '../../record/candidates/words.ts';
import { memberWords } from '../../record/kinds/beam/kind.ts';
import type { ItemKind } from '../../record/kinds/definition.ts';
import { calculationView } from '../../record/pages/calculation-view.ts';
import { picturesOfVersions } from '../../record/pages/pictures.ts';
import { zoneOfHouse } from '../../record/projects/house-zone.ts';
import { withFullStop } from '../../record/prose.ts';
import { readSet } from '../../record/sets/read.ts';
import { standingsOfOpening } from '../../record/items/standings.ts';
import { asMember, type RecordDeps } from '../../record/use-case.ts';
import { versionsById, type VersionRecord } from '../../record/versions/store.ts';
import { ratioText } from '../../web/check-view.ts';
import {
  LIMITS,
  type CalculationSheet,
  type SheetCandidate,
  type SheetItem,
  type SheetLoad,
} from './model.ts';

/** What is on the sheet, and of which item it is a version. */
interface Chosen {
  readonly item: { readonly kind: ItemKind; readonly key: string; readonly title: string };
  readonly version: VersionRecord;
}

const SHOWN = 8;

/** The calculation as the newest versions have it: a working state. @throws NotFound for another project's opening */
export async function sheetOfOpening(
  deps: RecordDeps,
  actor: Actor,
  openingId: string,
): Promise<CalculationSheet> {
  const found = await asMember(deps, actor, 'item.read', async (tx, { projectId }) => {
    const opening = await tx.opening.findFirst({
      where: { id: openingId, projectId },
      include: { project: true },
    });
    if (opening === null) throw new NotFound('That opening');
    const standings = await standingsOfOpening(tx, deps.kinds, { projectId }, openingId);
    const criteria = await tx.item.findMany({
      where: { projectId, kind: 'criteria' },
      select: {
        key: true,
        title: true,
        versions: { orderBy: { number: 'desc' }, take: 1, select: { id: true } },
      },
    });
    const wanted = [
      ...criteria.map(({ key, title, versions }) => ({
        item: { kind: 'criteria' as const, key, title },
        id: versions[0]?.id,
      })),
      ...standings.map(({ facts }) => ({ item: facts, id: facts.newest?.versionId })),
    ].flatMap(({ item, id }) => (id === undefined ? [] : [{ item, id }]));
    const versions = await versionsById(
      tx,
      projectId,
      wanted.map(({ id }) => id),
    );
    const stale = standings.filter((one) => one.stale.length > 0).map((one) => one.facts.title);
    return { opening, stale, chosen: pair(wanted, versions) };
  });
  const { opening, stale, chosen } = found;
  return compose(deps, actor, chosen, {
    project: opening.project,
    timeZone: opening.project.timeZone,
    opening,
    basis: 'Working state: the newest versions, approved or not. Build from an approved set only.',
    hash: sha256Hex(canonicalJson(chosen.map(({ version }) => version.hash))),
    warnings: stale.length === 0 ? [] : [`Out of date, to be recalculated: ${stale.join(', ')}.`],
  });
}

/** The calculation of an issued set: its very versions and the criteria and survey of that day. */
export async function sheetOfSet(deps: RecordDeps, actor: Actor, setId: string): Promise<CalculationSheet> {
  const [set, timeZone] = await Promise.all([
    readSet(deps, actor, { setId }),
    zoneOfHouse(deps.prisma, actor.projectId),
  ]);
  const { content } = set;
  const wanted = [...content.bases, ...content.entries].map((item) => ({ item, id: item.versionId }));
  const versions = await asMember(deps, actor, 'set.read', (tx, { projectId }) =>
    versionsById(
      tx,
      projectId,
      wanted.map(({ id }) => id),
    ),
  );
  return compose(deps, actor, pair(wanted, versions), {
    project: content.project,
    timeZone,
    opening: content.opening,
    basis: `Approved set ${set.number}, issued ${dayText(set.issuedAt, timeZone)} by ${content.issuedBy.name}`,
    hash: set.hash,
    warnings: [
      ...(set.supersededBy === null ? [] : [`Superseded: set ${set.supersededBy} is in force.`]),
      ...set.flags.map((flag) => flag.sentence),
      ...content.gaps.map((gap) => withFullStop(`Left open: ${gap.sentence}`)),
    ],
  });
}

function pair(
  wanted: readonly { readonly item: Chosen['item']; readonly id: string }[],
  versions: readonly VersionRecord[],
): Chosen[] {
  const byId = new Map(versions.map((version) => [version.versionId, version]));
  return wanted.flatMap(({ item, id }) => {
    const version = byId.get(id);
    return version === undefined ? [] : [{ item, version }];
  });
}

type Head = Pick<CalculationSheet, 'project' | 'timeZone' | 'opening' | 'basis' | 'hash' | 'warnings'>;

async function compose(
  deps: RecordDeps,
  actor: Actor,
  chosen: readonly Chosen[],
  head: Head,
): Promise<CalculationSheet> {
  const order = deps.kinds.all.map(({ kind }) => kind);
  const sorted = [...chosen].sort((a, b) => order.indexOf(a.item.kind) - order.indexOf(b.item.kind));
  const content = (kind: ItemKind) => sorted.find(({ item }) => item.kind === kind)?.version.content;
  const criteria = content('criteria') as Criteria | undefined;
  const pictures = await picturesOfVersions(
    deps.prisma,
    actor.projectId,
    sorted.map(({ item, version }) => ({
      kind: item.kind,
      content: version.content,
      restsOn: version.restsOn,
      calculation: version.calculation,
      criteria,
      idPrefix: `${item.kind}-${item.key}-`,
    })),
  );
  const items: SheetItem[] = [];
  for (const [place, { item, version }] of sorted.entries()) {
    const definition = deps.kinds.get(item.kind);
    const mark = version.marks.at(-1);
    items.push({
      kind: item.kind,
      kindTitle: definition.title,
      key: item.key,
      title: item.title,
      number: version.number,
      hash: version.hash,
      engineVersion: version.engineVersion,
      authorName: version.authorName,
      at: version.at,
      stands: !definition.reviewable
        ? 'what the others rest on; not marked'
        : mark === undefined
          ? 'not marked yet'
          : `${mark.word} by ${mark.byName}, ${dayText(mark.at, head.timeZone)}`,
      lines: definition.describe(version.content),
      calculation: calculationView(version.calculation),
      pictures: pictures[place] ?? [],
    });
  }
  const survey = content('survey') as Survey | undefined;
  const beam = content('beam') as Beam | undefined;
  // A sheet of an opening that can't be calculated yet says so in its items.
  const extras =
    (criteria && survey && beam && unlessRefused(() => beamExtras(criteria, survey, beam))) ?? NO_EXTRAS;
  return {
    project: head.project,
    timeZone: head.timeZone,
    opening: { ordinal: head.opening.ordinal, name: head.opening.name },
    basis: head.basis,
    hash: head.hash,
    warnings: head.warnings,
    items,
    ...extras,
    assumptions: survey === undefined ? [] : assumptionsOf(survey),
    limits: LIMITS,
    madeAt: deps.clock(),
  };
}

type BeamExtras = Pick<CalculationSheet, 'loads' | 'combinations' | 'candidates'>;

const NO_EXTRAS: BeamExtras = { loads: [], combinations: [], candidates: null };

/** @throws Refusal where the opening can't be calculated yet */
function beamExtras(criteria: Criteria, survey: Survey, beam: Beam): BeamExtras {
  const prepared = prepareBeam(survey, criteria, beam);
  const { member: _member, ...rest } = beam;
  const found = searchBeams({
    survey,
    criteria,
    beam: rest,
    ...(survey.depthAvailableIn === undefined ? {} : { depthAvailableIn: survey.depthAvailableIn }),
  });
  return {
    loads: prepared.takeOff.loads.map(sheetLoad),
    combinations: prepared.combinations.map(({ name, durationFactor }) => ({
      name,
      durationFactor: durationFactor.toFixed(2),
    })),
    candidates: {
      rule: found.rule,
      judged: found.judged,
      passing: found.ranked.length,
      ranked: found.ranked.slice(0, SHOWN).map(sheetCandidate),
      nearMisses: found.nearMisses.slice(0, SHOWN).map(sheetCandidate),
    },
  };
}

function sheetLoad(load: Load): SheetLoad {
  const kind = load.snowCase === undefined ? load.kind : `${load.kind}, ${load.snowCase}`;
  const feet = (inches: number) => formatFeetInches(inches, { to: 16 });
  return load.form === 'line'
    ? {
        label: load.label,
        kind,
        amount: formatQuantity(qty(load.loadPlf, 'plf')),
        where: `${feet(load.fromIn)} to ${feet(load.toIn)}`,
      }
    : {
        label: load.label,
        kind,
        amount: formatQuantity(qty(load.loadLb, 'lb')),
        where: `at ${feet(load.positionIn)}`,
      };
}

function sheetCandidate(candidate: Candidate): SheetCandidate {
  return {
    words: memberWords(candidate.member),
    depth: formatInches(candidate.depthIn, { to: 16 }),
    weight: formatQuantity(qty(candidate.weightPlf, 'plf')),
    used: ratioText(candidate.utilization, candidate.failing.length === 0),
    why: missedWords(candidate),
  };
}

/** Entries of the survey that nobody has measured. */
function assumptionsOf(survey: Survey): string[] {
  const entries = [...survey.strips, ...survey.wallsAbove, ...survey.braces, ...survey.landings];
  return entries
    .filter(({ evidence }) => evidence !== 'measured')
    .map(({ label, evidence }) => `${label}: ${evidence}`);
}
