/**
 * How a kind of load may leave parts of a continuous beam unloaded. `partial live`: full or none on each
 * panel (ASCE 7 §4.3.3, from memory). `partial snow`: full or half, in the arrangements of ASCE 7 §7.5.1
 * (as quoted by a secondary source; that an overhang counts as a span is from memory). `none`: as given.
 */
export type PatternRule = 'none' | 'partial live' | 'partial snow';

/** What is left of the load on each panel, from left to right. */
export type PanelShares = readonly number[];

/** Up to this many panels, every choice of loaded panels is tried; above, the ones that can govern. */
const MOST_PANELS_FOR_EVERY_CHOICE = 4;

/** The arrangements of a rule on so many panels; the full load is always the first. */
export function arrangementsOf(rule: PatternRule, panels: number): readonly PanelShares[] {
  switch (rule) {
    case 'none':
      return [fill(panels, () => 1)];
    case 'partial live':
      return panels <= MOST_PANELS_FOR_EVERY_CHOICE ? everyChoice(panels) : alternating(panels);
    case 'partial snow':
      return partialSnow(panels);
  }
}

function fill(panels: number, share: (panel: number) => number): PanelShares {
  return Array.from({ length: panels }, (_, panel) => share(panel));
}

/** Every choice of panels but the empty one; bit i of the choice is panel i. */
function everyChoice(panels: number): readonly PanelShares[] {
  const choices: PanelShares[] = [];
  for (let choice = 2 ** panels - 1; choice >= 1; choice--) {
    choices.push(fill(panels, (panel) => (choice >> panel) & 1));
  }
  return choices;
}

/**
 * All panels; every other one, from the first and from the second (largest sag); two neighbours with every
 * other one beyond (largest moment, shear and reaction at the support between them).
 */
function alternating(panels: number): readonly PanelShares[] {
  const shares = [
    fill(panels, () => 1),
    fill(panels, (panel) => (panel + 1) % 2),
    fill(panels, (panel) => panel % 2),
  ];
  for (let left = 0; left < panels - 1; left++) {
    shares.push(fill(panels, (panel) => (panel <= left ? left - panel + 1 : panel - left) % 2));
  }
  return shares;
}

/**
 * ASCE 7 §7.5.1: full on an end span and half on the others; half on an end span and full on the others;
 * full on two neighbours and half on the others. A single span takes the full load.
 */
function partialSnow(panels: number): readonly PanelShares[] {
  const shares = [fill(panels, () => 1)];
  if (panels === 1) return shares;
  for (const end of [0, panels - 1]) {
    shares.push(fill(panels, (panel) => (panel === end ? 1 : 0.5)));
    shares.push(fill(panels, (panel) => (panel === end ? 0.5 : 1)));
  }
  for (let left = 0; left < panels - 1; left++) {
    shares.push(fill(panels, (panel) => (panel === left || panel === left + 1 ? 1 : 0.5)));
  }
  return shares;
}
