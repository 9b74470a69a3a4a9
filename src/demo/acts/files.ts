import { Readable } from 'node:stream';
import type { UploadedFile } from '../../attachments/multipart.ts';
import { receiveFile } from '../../attachments/receive.ts';
import { addAttachments, shareAttachment, type AttachTo } from '../../attachments/service.ts';
import type { Role } from '../../people/roles.ts';
import { demoPhoto, type Scene } from '../pictures/photo.ts';
import type { Telling } from '../telling.ts';

const LIMIT_BYTES = 20 * 1024 * 1024;

export type FileActs = ReturnType<typeof fileActs>;

/** Photos and drawings of one opening's story, its photos numbered as they are taken. */
export function fileActs({ deps, as, now }: Telling) {
  async function uploaded(bytes: Buffer, originalName: string): Promise<UploadedFile> {
    const options = { limitBytes: LIMIT_BYTES, wasCutShort: () => false };
    return { ...(await receiveFile(deps.blobs, Readable.from([bytes]), options)), originalName };
  }
  let taken = 0;
  const photoOf = async (scene: Scene): Promise<UploadedFile> => {
    taken += 1;
    return uploaded(await demoPhoto(scene, now(), taken), `photo-${String(taken).padStart(2, '0')}.jpg`);
  };
  return {
    /** A photo for a use case that attaches it in its own transaction: its bytes lie in the store already. */
    async committedPhoto(scene: Scene): Promise<UploadedFile> {
      const file = await photoOf(scene);
      await file.received.commit();
      return file;
    },

    async photo(
      to: AttachTo,
      scene: Scene,
      caption: string,
      { by = 'contractor', shared = false }: { by?: Role; shared?: boolean } = {},
    ) {
      const [added] = await addAttachments(deps, as(by), { files: [await photoOf(scene)], caption, to });
      if (shared && added !== undefined) {
        await shareAttachment(deps, as('contractor'), { attachmentId: added.attachmentId, shared });
      }
    },

    /** @returns the hash of the file, which a drawing's version names */
    async sheet(to: AttachTo, pdf: Buffer, name: string): Promise<string> {
      const [added] = await addAttachments(deps, as('contractor'), {
        files: [await uploaded(pdf, `${name}.pdf`)],
        caption: name,
        to,
      });
      return added?.sha256 ?? '';
    },
  };
}
