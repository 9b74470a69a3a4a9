import { readdir } from 'node:fs/promises';
import path from 'node:path';
import { createOpening } from '../../../src/record/openings/service.ts';
import { createProject } from '../../../src/record/projects/service.ts';
import { startTestApp, type Client, type TestApp } from '../../support/app.ts';

export interface SentFile {
  readonly field: string;
  readonly name: string;
  readonly mimeType: string;
  readonly buffer: Buffer;
}

/** A project with one opening and its people, for tests of files. */
export interface House {
  readonly test: TestApp;
  readonly projectId: string;
  readonly openingId: string;
  readonly contractor: Client;
  readonly engineer: Client;
  readonly owner: Client;
  readonly stranger: Client;
  /** Sends files to the opening. */
  send: (...files: Omit<SentFile, 'field'>[]) => ReturnType<Client['upload']>;
  /** What is left half-received, what is stored, and how many rows there are. */
  kept: () => Promise<{ incoming: string[]; blobs: string[]; rows: number }>;
  attachmentId: () => Promise<string>;
  blobPath: (sha256: string) => string;
}

export async function buildHouse(environment: Readonly<Record<string, string>> = {}): Promise<House> {
  const test = await startTestApp(environment);
  const contractor = await test.person('Contractor');
  const { projectId } = await createProject(test.deps, contractor, {
    name: 'Files',
    address: '1 Row',
    jurisdiction: 'Town',
    permitNumber: '',
  });
  const actor = { ...contractor, role: 'contractor' as const, projectId };
  const { openingId } = await createOpening(test.deps, actor, { name: 'One' });
  const engineer = await test.person('Engineer');
  await test.join(engineer, projectId, 'engineer');
  const owner = await test.person('Owner');
  await test.join(owner, projectId, 'owner');
  const stranger = await test.person('Stranger');
  const filesFolder = path.resolve(test.deps.config.dataFolder, 'files');

  return {
    test,
    projectId,
    openingId,
    contractor,
    engineer,
    owner,
    stranger,
    send: (...files) =>
      contractor.upload(
        `/projects/${projectId}/attachments`,
        {
          subject: 'opening',
          subjectId: openingId,
          caption: '',
          back: `/projects/${projectId}/openings/${openingId}`,
        },
        files.map((file) => ({ field: 'file', ...file })),
      ),
    async kept() {
      const names = async (folder: string) =>
        (
          await readdir(path.join(filesFolder, folder), { recursive: true, withFileTypes: true }).catch(
            () => [],
          )
        )
          .filter((entry) => entry.isFile())
          .map((entry) => entry.name);
      return {
        incoming: await names('incoming'),
        blobs: await names('blobs'),
        rows: await test.deps.prisma.attachment.count({ where: { projectId } }),
      };
    },
    async attachmentId() {
      const row = await test.deps.prisma.attachment.findFirstOrThrow({
        where: { projectId },
        orderBy: { uploadedAt: 'desc' },
      });
      return row.id;
    },
    blobPath: (sha256) => path.join(filesFolder, 'blobs', sha256.slice(0, 2), sha256),
  };
}
