/** A square system reduced once and solved for many right-hand sides. Row-major. */
export interface FactoredSystem {
  readonly size: number;
  /** Lower factor (unit diagonal, below) and upper factor (diagonal and above) in one. */
  readonly factors: Float64Array;
  /** Row of the given system that ended up in each row of the factors. */
  readonly order: Int32Array;
}

/** The buffers here are indexed inside their own bounds only; TypeScript can't see that. */
function at(values: Float64Array | Int32Array, index: number): number {
  return values[index] ?? NaN;
}

/**
 * Gaussian elimination with row pivoting, each row judged by its own largest entry, so that spans of very
 * different length do not mislead the choice. The matrix must be regular.
 */
export function factor(matrix: Float64Array, size: number): FactoredSystem {
  const factors = Float64Array.from(matrix);
  const order = Int32Array.from({ length: size }, (_, row) => row);
  const scale = Float64Array.from({ length: size }, (_, row) =>
    largest(matrix.subarray(row * size, row * size + size)),
  );
  for (let column = 0; column < size; column++) {
    let pivot = column;
    for (let row = column + 1; row < size; row++) {
      const weight = Math.abs(at(factors, row * size + column)) / at(scale, row);
      if (weight > Math.abs(at(factors, pivot * size + column)) / at(scale, pivot)) pivot = row;
    }
    swapRows(factors, size, pivot, column);
    swapEntries(order, pivot, column);
    swapEntries(scale, pivot, column);
    for (let row = column + 1; row < size; row++) {
      const share = at(factors, row * size + column) / at(factors, column * size + column);
      factors[row * size + column] = share;
      for (let k = column + 1; k < size; k++) {
        factors[row * size + k] = at(factors, row * size + k) - share * at(factors, column * size + k);
      }
    }
  }
  return { size, factors, order };
}

export function solve({ size, factors, order }: FactoredSystem, rightSide: Float64Array): Float64Array {
  const result = Float64Array.from(order, (row) => at(rightSide, row));
  for (let row = 0; row < size; row++) {
    for (let k = 0; k < row; k++) result[row] = at(result, row) - at(factors, row * size + k) * at(result, k);
  }
  for (let row = size - 1; row >= 0; row--) {
    for (let k = row + 1; k < size; k++) {
      result[row] = at(result, row) - at(factors, row * size + k) * at(result, k);
    }
    result[row] = at(result, row) / at(factors, row * size + row);
  }
  return result;
}

function largest(values: Float64Array): number {
  return values.reduce((most, value) => Math.max(most, Math.abs(value)), 0);
}

function swapRows(values: Float64Array, size: number, one: number, other: number): void {
  const kept = values.slice(one * size, one * size + size);
  values.copyWithin(one * size, other * size, other * size + size);
  values.set(kept, other * size);
}

function swapEntries(values: Float64Array | Int32Array, one: number, other: number): void {
  const kept = at(values, one);
  values[one] = at(values, other);
  values[other] = kept;
}
