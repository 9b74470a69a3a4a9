/** A drawing with its words, ready for a page or a sheet. */
export interface Picture {
  readonly title: string;
  /** Made by src/report/drawings; every label in it is escaped. */
  readonly svg: string;
}
