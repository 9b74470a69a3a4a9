import type { Step } from '../../../src/engineering/trace/step.ts';

/**
 * Reads a step's formula and works it out from its values, so that what a person reads is what was calculated.
 * Operators · ÷ + − ^, parentheses, √, min, max, sin, cos, tan (degrees).
 */
export function evaluateFormula(step: Step): number {
  const right = step.formula.slice(step.formula.indexOf('=') + 1);
  const tokens = right.match(/\d+(?:\.\d+)?|[\p{L}_][\p{L}\p{N}_′*⊥‖]*|[·÷+−^(),√]/gu) ?? [];
  let at = 0;
  const peek = (): string | undefined => tokens[at];
  const take = (expected?: string): string => {
    const token = tokens[at];
    if (token === undefined || (expected !== undefined && token !== expected)) {
      throw new Error(`${step.id}: “${step.formula}” can't be read at ${String(token)}`);
    }
    at += 1;
    return token;
  };
  const sum = (): number => {
    let value = product();
    while (peek() === '+' || peek() === '−') value = take() === '+' ? value + product() : value - product();
    return value;
  };
  const product = (): number => {
    let value = power();
    while (peek() === '·' || peek() === '÷') value = take() === '·' ? value * power() : value / power();
    return value;
  };
  const power = (): number => {
    const base = atom();
    if (peek() !== '^') return base;
    take('^');
    return base ** atom();
  };
  const list = (): number[] => {
    take('(');
    const values = [sum()];
    while (peek() === ',') {
      take(',');
      values.push(sum());
    }
    take(')');
    return values;
  };
  const functions: Record<string, (values: number[]) => number> = {
    min: (values) => Math.min(...values),
    max: (values) => Math.max(...values),
    sin: ([degrees]) => Math.sin((degrees! * Math.PI) / 180),
    cos: ([degrees]) => Math.cos((degrees! * Math.PI) / 180),
    tan: ([degrees]) => Math.tan((degrees! * Math.PI) / 180),
    '√': ([value]) => Math.sqrt(value!),
  };
  const atom = (): number => {
    const token = peek();
    if (token === '(') {
      take('(');
      const value = sum();
      take(')');
      return value;
    }
    const name = take();
    const apply = functions[name];
    if (apply && peek() === '(') return apply(list());
    if (/^\d/.test(name)) return Number(name);
    const value = step.values[name];
    if (value === undefined) throw new Error(`${step.id}: “${name}” of “${step.formula}” has no value`);
    return value.value;
  };
  const value = sum();
  if (at !== tokens.length) throw new Error(`${step.id}: “${step.formula}” does not end where it should`);
  return value;
}
