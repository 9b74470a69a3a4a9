/** What the service and its HEIC process say to each other. */
export interface DrawTask {
  readonly bytes: Buffer;
  readonly widthPx: number;
}

export type FromChild =
  | { readonly say: 'drawn'; readonly picture: Buffer; readonly widthPx: number; readonly heightPx: number }
  | { readonly say: 'failed' };
