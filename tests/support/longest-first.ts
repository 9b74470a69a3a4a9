import { BaseSequencer, type TestSpecification } from 'vitest/node';

/** What takes minutes each, by its ring or by what it does; the first of the list first. */
const LONG = [
  /tests\/browser\/every-page/,
  /tests\/browser\/thin-job/,
  /tests\/faults\/kill/,
  /tests\/browser\/page-weight/,
  /tests\/report\/package\//,
  /\.browser\.test\.ts$/,
  /tests\/(scripts|faults|security|database|growth)\//,
];

/** A file of minutes that begins last leaves the other workers idle: the long ones begin first. */
export class LongestFirst extends BaseSequencer {
  override async sort(files: TestSpecification[]): Promise<TestSpecification[]> {
    const sorted = await super.sort(files);
    const rank = ({ moduleId }: TestSpecification) => {
      const found = LONG.findIndex((pattern) => pattern.test(moduleId));
      return found < 0 ? LONG.length : found;
    };
    return sorted
      .map((file) => ({ file, rank: rank(file) }))
      .sort((one, other) => one.rank - other.rank)
      .map(({ file }) => file);
  }
}
