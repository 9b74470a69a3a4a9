import type { Requirement } from './requirement.ts';
import { v01 } from './v01-encoding.ts';
import { v02 } from './v02-validation.ts';
import { v03 } from './v03-web-frontend.ts';
import { v04 } from './v04-api.ts';
import { v05 } from './v05-files.ts';
import { v06 } from './v06-authentication.ts';
import { v07 } from './v07-sessions.ts';
import { v08 } from './v08-authorization.ts';
import { v09 } from './v09-self-contained-tokens.ts';
import { v10 } from './v10-oauth.ts';
import { v11 } from './v11-cryptography.ts';
import { v12 } from './v12-communication.ts';
import { v13 } from './v13-configuration.ts';
import { v14 } from './v14-data.ts';
import { v15 } from './v15-coding.ts';
import { v16 } from './v16-logging.ts';
import { v17 } from './v17-webrtc.ts';

/** Chapter by chapter. */
export const chapters: readonly (readonly Requirement[])[] = [
  v01,
  v02,
  v03,
  v04,
  v05,
  v06,
  v07,
  v08,
  v09,
  v10,
  v11,
  v12,
  v13,
  v14,
  v15,
  v16,
  v17,
];
