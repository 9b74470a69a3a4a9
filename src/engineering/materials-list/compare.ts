import { gradeCode } from '../materials/sawn-lumber.ts';
import { sawnSize } from '../materials/lumber-sizes.ts';
import { unlessRefused } from '../trace/index.ts';
import { formatFeetInches, formatInches } from '../units/index.ts';
import { goodsWords, type Goods } from './called-for.ts';

/** One thing in which what arrived is not what was called for. */
export interface Difference {
  readonly field: string;
  /** 'Called for LVL 2.0E; LVL 1.9E arrived.' */
  readonly sentence: string;
}

/** How far a measured size may lie off and still be that size, in. Common practice: what a tape shows. */
export const SIZE_TOLERANCE_IN = 1 / 16;
/** Of the diameter and length of a nail (ASTM F1667, from memory: 0.004 in and 1/16 in for sizes used in framing). */
export const NAIL_DIAMETER_TOLERANCE_IN = 0.004;
const LENGTH_TOLERANCE_IN = 1 / 32;

/**
 * What arrived against what was called for: species, grade, modulus class, size, length at least, treated or not, nail
 * diameter and length. Anything else than what was called for is a difference, also a higher grade: whether it will do is
 * the engineer's to say, never the yard's or the site's.
 *
 * @param leastLengthIn the shortest stick that still gives its pieces; the called-for length where left out
 * @param how what happened to the goods: they arrived, or a yard offers them and nothing came yet
 */
export function differences(
  calledFor: Goods,
  delivered: Goods,
  leastLengthIn?: number,
  how: 'arrived' | 'offered' = 'arrived',
): Difference[] {
  const found: Difference[] = [];
  const differ = (field: string, wanted: string, came: string) =>
    found.push({ field, sentence: `Called for ${wanted}; ${came} ${how}.` });
  const named = (field: string, wanted: string, came: string, same = sameName) => {
    if (!same(wanted, came)) differ(field, wanted, came);
  };
  const inch = (value: number) => formatInches(value, { to: 16 });
  const sized = (field: string, what: string, wanted: number, came: number) => {
    if (Math.abs(wanted - came) > SIZE_TOLERANCE_IN + 1e-9)
      differ(field, `${inch(wanted)} ${what}`, inch(came));
  };
  const longEnough = (wanted: number, came: number) => {
    const least = leastLengthIn ?? wanted;
    if (came < least - LENGTH_TOLERANCE_IN) {
      const feet = (value: number) => formatFeetInches(value, { to: 16 });
      const enough = least < wanted ? ` (${feet(least)} would do)` : '';
      differ('lengthIn', `${feet(wanted)} long${enough}`, feet(came));
    }
  };
  if (calledFor.kind === 'sawn' && delivered.kind === 'sawn') {
    named('species', calledFor.species, delivered.species);
    named('grade', calledFor.grade, delivered.grade, (one, other) =>
      sameName(gradeCode(one), gradeCode(other)),
    );
    named('size', calledFor.size, delivered.size);
    if (calledFor.treated !== delivered.treated) {
      differ('treated', treatment(calledFor.treated), treatment(delivered.treated));
    }
    const dressed = dressedSize(calledFor.size);
    if (dressed !== undefined && delivered.thicknessIn !== undefined)
      sized('thicknessIn', 'thick', dressed.thicknessIn, delivered.thicknessIn);
    if (dressed !== undefined && delivered.depthIn !== undefined)
      sized('depthIn', 'deep', dressed.widthIn, delivered.depthIn);
    longEnough(calledFor.lengthIn, delivered.lengthIn);
  } else if (calledFor.kind === 'composite' && delivered.kind === 'composite') {
    named('class', calledFor.class, delivered.class);
    sized('thicknessIn', 'thick', calledFor.thicknessIn, delivered.thicknessIn);
    sized('depthIn', 'deep', calledFor.depthIn, delivered.depthIn);
    longEnough(calledFor.lengthIn, delivered.lengthIn);
  } else if (calledFor.kind === 'glulam' && delivered.kind === 'glulam') {
    named('combination', calledFor.combination, delivered.combination);
    sized('thicknessIn', 'wide', calledFor.thicknessIn, delivered.thicknessIn);
    sized('depthIn', 'deep', calledFor.depthIn, delivered.depthIn);
    longEnough(calledFor.lengthIn, delivered.lengthIn);
  } else if (calledFor.kind === 'steel shape' && delivered.kind === 'steel shape') {
    named('shape', calledFor.shape, delivered.shape);
    if (calledFor.fyKsi !== delivered.fyKsi)
      differ('fyKsi', `Fy ${calledFor.fyKsi} ksi`, `Fy ${delivered.fyKsi} ksi`);
    longEnough(calledFor.lengthIn, delivered.lengthIn);
  } else if (calledFor.kind === 'steel plate' && delivered.kind === 'steel plate') {
    sized('thicknessIn', 'thick', calledFor.thicknessIn, delivered.thicknessIn);
    sized('depthIn', 'deep', calledFor.depthIn, delivered.depthIn);
    longEnough(calledFor.lengthIn, delivered.lengthIn);
  } else if (calledFor.kind === 'nail' && delivered.kind === 'nail') {
    // Box and common nails share their penny names: diameter and length are what holds.
    const off =
      Math.abs(calledFor.diameterIn - delivered.diameterIn) > NAIL_DIAMETER_TOLERANCE_IN + 1e-9 ||
      Math.abs(calledFor.lengthIn - delivered.lengthIn) > SIZE_TOLERANCE_IN + 1e-9;
    if (off) differ('diameterIn', goodsWords(calledFor), goodsWords(delivered));
    else if (special(calledFor.style) !== special(delivered.style))
      differ('style', `${calledFor.style} nails`, `${delivered.style} nails`);
  } else if (calledFor.kind === 'screw or bolt' && delivered.kind === 'screw or bolt') {
    named('what', calledFor.what, delivered.what);
    if (Math.abs(calledFor.diameterIn - delivered.diameterIn) > NAIL_DIAMETER_TOLERANCE_IN + 1e-9)
      differ('diameterIn', `${calledFor.diameterIn} in thick`, `${delivered.diameterIn} in`);
    sized('lengthIn', 'long', calledFor.lengthIn, delivered.lengthIn);
  } else if (calledFor.kind === 'hanger' && delivered.kind === 'hanger') {
    named('joistSize', calledFor.joistSize, delivered.joistSize);
    named('listing', calledFor.listing, delivered.listing);
  } else if (calledFor.kind === 'concrete' && delivered.kind === 'concrete') {
    if (delivered.strengthPsi < calledFor.strengthPsi)
      differ('strengthPsi', `${calledFor.strengthPsi} psi`, `${delivered.strengthPsi} psi`);
  } else {
    differ('kind', goodsWords(calledFor), goodsWords(delivered));
  }
  return found;
}

function sameName(one: string, other: string): boolean {
  const plain = (text: string) => text.trim().replace(/\s+/g, ' ').toLowerCase();
  return plain(one) === plain(other);
}

/** Nails with a head or a point of their own stand in for no others. */
function special(style: string): string {
  return style === 'connector' || style === 'duplex' ? style : 'smooth';
}

/** Treated lumber asks for its own fasteners (IRC R317.3) and, incised, holds less (NDS 4.3.8). */
function treatment(treated: boolean): string {
  return treated ? 'treated lumber' : 'untreated lumber';
}

function dressedSize(size: string): { readonly thicknessIn: number; readonly widthIn: number } | undefined {
  return unlessRefused(() => sawnSize(size));
}
