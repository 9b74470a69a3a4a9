import readExif from 'exif-reader';

export interface CameraWords {
  /** DateTimeOriginal, as the camera's own clock had it; UTC only in name. */
  readonly capturedAt: Date | null;
  /** Where the photo was taken, in degrees; west and south are negative. */
  readonly position: { readonly latitude: number; readonly longitude: number } | null;
}

/** Reads what the record keeps of a photo's EXIF block; damaged blocks say nothing. */
export function readCameraWords(exif: Buffer | undefined): CameraWords {
  if (exif === undefined) return { capturedAt: null, position: null };
  try {
    const { Image, Photo, GPSInfo } = readExif(exif);
    const time = Photo?.DateTimeOriginal ?? Image?.DateTime;
    const latitude = degrees(GPSInfo?.GPSLatitude, GPSInfo?.GPSLatitudeRef, 90);
    const longitude = degrees(GPSInfo?.GPSLongitude, GPSInfo?.GPSLongitudeRef, 180);
    return {
      capturedAt: time instanceof Date && !Number.isNaN(time.getTime()) ? time : null,
      position: latitude === null || longitude === null ? null : { latitude, longitude },
    };
  } catch {
    return { capturedAt: null, position: null };
  }
}

/** Is there anything of a place in a photo's blocks? A block that can't be read is taken to have one. */
export function namesPlace(exif: Buffer | undefined, xmp: Buffer | undefined): boolean {
  if (xmp !== undefined && /GPS(Latitude|Longitude|Dest)/i.test(xmp.toString('latin1'))) return true;
  if (exif === undefined) return false;
  try {
    return Object.keys(readExif(exif).GPSInfo ?? {}).some((name) => /Latitude|Longitude/.test(name));
  } catch {
    return true;
  }
}

function degrees(
  parts: readonly number[] | undefined,
  side: string | undefined,
  most: number,
): number | null {
  if (parts?.length !== 3) return null;
  const [degree = NaN, minute = NaN, second = NaN] = parts;
  const value = (degree + minute / 60 + second / 3600) * (side === 'S' || side === 'W' ? -1 : 1);
  return Math.abs(value) <= most ? value : null;
}
