import type { Goods, GoodsKind } from '../../engineering/materials-list/index.ts';
import type { Field, FormSpec } from '../../web/forms/spec.ts';

const text = (name: string, label: string, example: string): Field => ({
  kind: 'text',
  name,
  label,
  example,
  maxLength: 60,
});
const length = (name: string, label: string, example: string, hint?: string, optional = false): Field => ({
  kind: 'length',
  name,
  label,
  example,
  ...(hint === undefined ? {} : { hint }),
  ...(optional ? { optional } : {}),
});
const stick = length('lengthIn', 'Length of the stick', `12'-0"`);
const thick = length('thicknessIn', 'Thickness of one piece, measured', '1 3/4"');
const deep = length('depthIn', 'Depth, measured', '11 7/8"');
const kindField = (kind: GoodsKind): Field => ({
  kind: 'select',
  name: 'kind',
  label: 'Kind',
  options: [{ value: kind, text: kind }],
});

/** What is asked of one kind of goods, in the order in which it is read off the stamp. */
const fieldsOf: Readonly<Record<GoodsKind, readonly Field[]>> = {
  sawn: [
    text('grade', 'Grade on the stamp', 'No.2'),
    text('species', 'Species on the stamp', 'DF-L'),
    text('size', 'Nominal size', '2x6'),
    stick,
    { kind: 'checkbox', name: 'treated', label: 'It is pressure-treated' },
    length('thicknessIn', 'Thickness, measured', '1 1/2"', 'Where it matters.', true),
    length('depthIn', 'Width, measured', '5 1/2"', 'Where it matters.', true),
  ],
  composite: [text('class', 'Class on the stamp', 'LVL 2.0E'), thick, deep, stick],
  glulam: [text('combination', 'Combination on the stamp', '24F-V4'), thick, deep, stick],
  'steel shape': [
    text('shape', 'Shape', 'W8x18'),
    {
      kind: 'number',
      name: 'fyKsi',
      label: 'Yield strength by the mill certificate',
      example: '50',
      unit: 'ksi',
    },
    stick,
  ],
  'steel plate': [thick, deep, stick],
  nail: [
    {
      kind: 'select',
      name: 'style',
      label: 'Kind of nail',
      options: ['common', 'box', 'sinker', 'pneumatic', 'connector', 'duplex'].map((value) => ({
        value,
        text: value,
      })),
    },
    length('diameterIn', 'Diameter', '0.148"', 'As printed on the box.'),
    length('lengthIn', 'Length', '3"'),
  ],
  'screw or bolt': [
    text('what', 'What it is', 'bolt'),
    length('diameterIn', 'Diameter', '1/2"'),
    length('lengthIn', 'Length', '10"'),
  ],
  hanger: [text('joistSize', 'For joists', '2x8'), text('listing', 'Listing on the label', 'report number')],
  concrete: [
    { kind: 'number', name: 'strengthPsi', label: 'Strength on the bag', example: '4000', unit: 'psi' },
  ],
};

/** The form in which goods of a kind are written down. */
export function goodsForm(kind: GoodsKind): FormSpec {
  return { fields: [kindField(kind), ...fieldsOf[kind]] };
}

/** The same without what is not asked a second time. */
export function askedFields(kind: GoodsKind): readonly Field[] {
  return fieldsOf[kind];
}

/** What counts: sticks, bags, pounds or each. */
export function countLabel(goods: Goods, unit: string): string {
  if (unit === 'lb') return 'Pounds that came';
  if (unit === 'bag') return 'Bags that came';
  return goods.kind === 'composite' ? 'Plies that came' : 'Pieces that came';
}
