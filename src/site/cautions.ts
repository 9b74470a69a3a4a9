/** What can hurt somebody while a bearing wall comes out: said once, in plain words, and shown where the step is. */
export interface Caution {
  readonly title: string;
  readonly words: string;
  /** The rule it comes from; '' for common practice. */
  readonly source: string;
}

export const cautions = {
  collapse: {
    title: 'The house can come down',
    words:
      'Until temporary walls carry the load, this wall is what holds the floors and the roof up. Nothing is cut or pulled before they are in and looked at, and nobody stands under what is being moved. If anything cracks, drops or leans: everybody out, then call the engineer.',
    source: '29 CFR 1926.850 (from memory)',
  },
  liveCircuits: {
    title: 'Live wires in the wall',
    words:
      'Open the wall dead: breaker off and locked, then every cable tried with a tester that was just tried on a live one. A cable may be fed from a panel or a switch you don’t expect.',
    source: '29 CFR 1926.416 and 1926.417 (from memory)',
  },
  dust: {
    title: 'Lead and asbestos in the dust',
    words:
      'In a house built before 1978 take the paint for lead paint until it is tested. Plaster, joint compound, texture, floor tile and pipe wrap of that age may hold asbestos: have them tested before anything is broken. Close the room off, keep children and expectant mothers out.',
    source: '40 CFR 745.85 and 40 CFR 61.145 (from memory)',
  },
  lifting: {
    title: 'A heavy beam over your head',
    words:
      'Know the weight before it leaves the ground; it is in the calculation as own weight. Ply by ply, or with a hoist or jacks that carry it; never held by hands alone, never over somebody’s head, and resting on its supports before anybody lets go.',
    source: '',
  },
  tendons: {
    title: 'Cables under tension in the slab',
    words:
      'Do not cut or core a slab before somebody who can tell has said that it holds no post-tensioned cables. A cut cable can come out of the concrete and kill.',
    source: '',
  },
} as const satisfies Readonly<Record<string, Caution>>;

/** The steps at which they are shown, by the kind of item that the step is about or the kind of visit. */
const shownAt: Readonly<Record<string, readonly Caution[]>> = {
  survey: [cautions.liveCircuits, cautions.dust],
  beam: [cautions.collapse, cautions.lifting],
  shoring: [cautions.collapse, cautions.liveCircuits, cautions.dust],
  footing: [cautions.tendons],
  framing: [cautions.collapse, cautions.lifting],
  electrical: [cautions.liveCircuits],
  services: [cautions.liveCircuits],
};

/** The cautions of a step; none for a step that has none. */
export function cautionsAt(step: string): readonly Caution[] {
  return Object.hasOwn(shownAt, step) ? (shownAt[step] ?? []) : [];
}
