import { absent, open, row, tested, written, type Requirement } from './requirement.ts';

export const v05: readonly Requirement[] = [
  row(
    '5.1.1',
    2,
    'Types and sizes are written down',
    written(
      'README.md',
      'Files are judged by their content',
      'types, sizes and what happens to a bad one, under “Security”',
    ),
  ),
  row(
    '5.2.1',
    1,
    'Only files of a size that can be handled',
    tested(
      [
        'attachments/hostile-uploads.http.test.ts',
        'refuses what is larger than the limit, and says the limit',
      ],
      [
        'attachments/constant-memory.http.test.ts',
        'raises the resident memory of the service by less than 64 MB, coming in and going out',
      ],
    ),
  ),
  row(
    '5.2.2',
    1,
    'The content is what it claims to be',
    tested(
      ['attachments/hostile-uploads.http.test.ts', 'refuses a head without a picture'],
      ['attachments/hostile-uploads.http.test.ts', 'refuses a PDF without its end'],
      ['security/uploads.http.test.ts', 'takes no SVG, whatever it calls itself'],
    ),
  ),
  row(
    '5.2.3',
    2,
    'Archives: size and number before they are opened',
    tested(
      ['report/package/package.db.test.ts', 'a name twice, a file too many, a file too few, a link'],
      ['security/archives.unit.test.ts', 'one that would swell beyond its claim is given up'],
    ),
  ),
  row(
    '5.3.1',
    1,
    'Uploaded files are never run',
    absent('Files lie under their hash outside of every folder that is served, and nothing runs them.'),
  ),
  row(
    '5.3.2',
    1,
    'Paths are made by the service',
    tested(
      ['report/package/package.db.test.ts', 'a name that leads out of the folder'],
      ['attachments/hostile-uploads.http.test.ts', 'gives 404 for ids that are paths'],
      ['security/hostile-requests.http.test.ts', 'no path leads out of the folder of assets'],
    ),
  ),
  row(
    '5.4.1',
    2,
    'The name of a download is the service’s',
    tested(['security/uploads.http.test.ts', 'no name of a file gets into a header']),
  ),
  row(
    '5.4.2',
    2,
    'Names in headers can’t break out',
    tested(['security/uploads.http.test.ts', 'no name of a file gets into a header']),
  ),
  row(
    '5.4.3',
    2,
    'Files are looked over for known malware',
    open(
      'No scanner is part of the service. Pictures are shown as previews drawn anew; originals and PDFs are downloads, and reach the downloader as they were sent.',
    ),
  ),
];
