// What pdfmake 0.3 offers on a server beyond its published types.
import 'pdfmake';

declare module 'pdfmake' {
  export function setUrlAccessPolicy(allows: (url: string) => boolean): void;
  export function setLocalAccessPolicy(allows: (path: string) => boolean): void;
  export const virtualfs: { writeFileSync: (name: string, content: Buffer) => void };
}
