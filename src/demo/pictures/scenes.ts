/** What the demo's pictures show, as SVG in a window of 1200 x 900. Schematic on purpose; sizes are in proportion. */
const WOOD = '#c79a5f';
const WOOD_DARK = '#9a7240';
const OLD = '#a98a62';
const LVL = '#b98b50';
const STEEL = '#aeb6bb';
const SLAB = '#8b8b86';
const PLASTER = '#d9d2c3';
const DARK = '#2b241c';

const board = (x: number, y: number, w: number, h: number, fill = WOOD) =>
  `<rect x="${x}" y="${y}" width="${w}" height="${h}" fill="${fill}" stroke="${WOOD_DARK}" stroke-width="3"/>`;
const times = (count: number, draw: (index: number) => string) =>
  Array.from({ length: count }, (_, index) => draw(index)).join('');
const room = `<rect width="1200" height="700" fill="${PLASTER}"/><rect y="700" width="1200" height="200" fill="${SLAB}"/>`;
const opened = `<rect width="1200" height="700" fill="#6d5f4d"/><rect y="700" width="1200" height="200" fill="${SLAB}"/>`;
const joistEnds = (y: number, depth: number) => times(13, (i) => board(20 + i * 92, y, 26, depth, OLD));
const nail = (x: number, y: number, r = 9) =>
  `<circle cx="${x}" cy="${y}" r="${r}" fill="#d8dcdd" stroke="#3a3a3a" stroke-width="3"/>`;
/** A tape with a mark every ten; `at` is its left end. */
const tape = (x: number, y: number, length: number) =>
  `<rect x="${x}" y="${y}" width="${length}" height="34" fill="#f1c533" stroke="#3a3a3a" stroke-width="2"/>` +
  times(
    Math.floor(length / 20),
    (i) => `<path d="M${x + 10 + i * 20} ${y}v${i % 5 === 0 ? 22 : 12}" stroke="#222" stroke-width="2"/>`,
  );
const label = (x: number, y: number, text: string, size = 34, fill = DARK) =>
  `<text x="${x}" y="${y}" font-family="DejaVu Sans Mono, monospace" font-size="${size}" fill="${fill}">${text}</text>`;
const plies = (y: number, depth: number) =>
  board(60, y, 1080, depth, LVL) +
  times(
    9,
    (i) =>
      `<path d="M60 ${y + (i + 1) * (depth / 10)}h1080" stroke="${WOOD_DARK}" stroke-width="1.5" opacity=".6"/>`,
  );
const pack = (x: number, studs: number, from: number, to: number) =>
  times(studs, (i) => board(x + i * 34, from, 34, to - from));
const hanger = (x: number) =>
  `<path d="M${x - 12} 300v260h130v-260" fill="none" stroke="${STEEL}" stroke-width="16"/>` +
  times(5, (i) => nail(x - 34, 330 + i * 46) + nail(x + 140, 330 + i * 46));

const wallBefore =
  room +
  `<rect x="150" y="90" width="900" height="610" fill="#cfc5b0" stroke="#a99f8c" stroke-width="4"/>` +
  `<rect x="300" y="470" width="60" height="80" fill="#f3efe6" stroke="#888" stroke-width="3"/><rect x="760" y="330" width="44" height="70" fill="#f3efe6" stroke="#888" stroke-width="3"/>` +
  `<path d="M150 700h900" stroke="#8c7f68" stroke-width="22"/>`;
const attic =
  `<rect width="1200" height="900" fill="#3a2f24"/>` +
  times(7, (i) => `<path d="M${100 + i * 160} 0L${20 + i * 160} 620" stroke="${OLD}" stroke-width="26"/>`) +
  `<path d="M0 300h1200" stroke="${OLD}" stroke-width="34"/>` +
  times(
    3,
    (i) => `<path d="M${260 + i * 340} 310L${180 + i * 340} 760" stroke="${WOOD}" stroke-width="40"/>`,
  ) +
  board(0, 760, 1200, 46, OLD) +
  joistEnds(806, 94);
const coreHole =
  `<rect width="1200" height="900" fill="${SLAB}"/><ellipse cx="600" cy="430" rx="300" ry="210" fill="#5b5a55"/><ellipse cx="600" cy="450" rx="270" ry="180" fill="#37332d"/>` +
  tape(560, 140, 90).replace('<rect', '<rect transform="rotate(0)"') +
  `<rect x="590" y="170" width="34" height="420" fill="#f1c533" stroke="#333" stroke-width="2"/>` +
  times(
    20,
    (i) => `<path d="M590 ${190 + i * 20}h${i % 5 === 0 ? 22 : 12}" stroke="#222" stroke-width="2"/>`,
  );
const panel =
  room +
  `<rect x="380" y="120" width="440" height="640" rx="12" fill="#9aa3a8" stroke="#4d555a" stroke-width="8"/>` +
  times(
    10,
    (i) =>
      `<rect x="430" y="${170 + i * 54}" width="150" height="40" fill="#20262a"/><rect x="620" y="${170 + i * 54}" width="150" height="40" fill="#20262a"/>` +
      label(440, 199 + i * 54, String(2 * i + 1), 24, '#f2f2f2') +
      label(730, 199 + i * 54, String(2 * i + 2), 24, '#f2f2f2'),
  );
const shoring =
  opened +
  joistEnds(40, 120) +
  board(0, 160, 1200, 30) +
  board(0, 190, 1200, 30) +
  times(9, (i) => board(40 + i * 138, 220, 34, 460)) +
  board(0, 680, 1200, 30) +
  `<path d="M40 660L560 240M640 660L1160 240" stroke="${WOOD}" stroke-width="30"/><path d="M40 660L560 240M640 660L1160 240" stroke="${WOOD_DARK}" stroke-width="3"/>` +
  times(9, (i) => nail(52 + i * 138, 234, 6) + nail(62 + i * 138, 664, 6));
const shoringUnbraced =
  opened +
  joistEnds(40, 120) +
  board(0, 160, 1200, 30) +
  board(0, 190, 1200, 30) +
  times(9, (i) => board(40 + i * 138, 220, 34, 460)) +
  board(0, 680, 1200, 30);
const stamp = (grade: string, under: string) =>
  `<rect width="1200" height="900" fill="#7c7468"/>` +
  board(-20, 220, 1240, 470, LVL) +
  times(
    12,
    (i) => `<path d="M0 ${260 + i * 36}h1200" stroke="${WOOD_DARK}" stroke-width="1.5" opacity=".5"/>`,
  ) +
  `<rect x="210" y="330" width="780" height="230" fill="none" stroke="${DARK}" stroke-width="6"/>` +
  label(250, 430, grade, 84) +
  label(250, 510, `${under}   MILL 00 (DEMO)`, 38) +
  tape(60, 700, 1000);
const pads =
  `<rect width="1200" height="900" fill="#7a6a54"/><path d="M260 240h680l90 480h-860z" fill="#54483a"/><path d="M320 300h560l60 350h-690z" fill="#6a6966"/>` +
  times(
    4,
    (i) => `<path d="M${360 + i * 150} 320l${-20 + i * 12} 310" stroke="#c0622f" stroke-width="12"/>`,
  ) +
  times(
    3,
    (i) => `<path d="M${310 - i * 14} ${390 + i * 90}h${590 + i * 30}" stroke="#c0622f" stroke-width="12"/>`,
  ) +
  tape(330, 730, 560);
const beam =
  opened +
  joistEnds(60, 150) +
  plies(60, 150) +
  pack(70, 4, 210, 700) +
  pack(996, 4, 210, 700) +
  times(11, (i) => nail(120 + i * 96, 85) + nail(120 + i * 96, 135) + nail(120 + i * 96, 185));
const hangers =
  `<rect width="1200" height="900" fill="#5d5142"/>` +
  board(-20, 250, 1240, 330, LVL) +
  times(3, (i) => board(180 + i * 380, 290, 104, 250, OLD) + hanger(180 + i * 380));
const plyNails =
  `<rect width="1200" height="900" fill="#6a5c49"/>` +
  board(-20, 200, 1240, 480, LVL) +
  tape(40, 700, 1100) +
  times(9, (i) => nail(90 + i * 128, 260) + nail(154 + i * 128, 440) + nail(90 + i * 128, 620));
const boxes =
  opened +
  times(6, (i) => board(80 + i * 210, 0, 40, 700, OLD)) +
  `<rect x="330" y="380" width="120" height="170" fill="#3b6ea5"/><rect x="750" y="380" width="120" height="170" fill="#3b6ea5"/><path d="M390 380C390 200 200 260 110 90M810 380C810 180 980 240 1040 60" fill="none" stroke="#e7c64b" stroke-width="16"/>` +
  times(3, (i) => `<rect x="${86 + i * 210}" y="270" width="28" height="90" fill="${STEEL}"/>`);
const finished = `<rect width="1200" height="700" fill="#e9e4d8"/><rect y="700" width="1200" height="200" fill="#a9835a"/><path d="M120 0v700M1080 0v700M120 130h960" stroke="#d3ccbc" stroke-width="8"/><rect x="470" y="230" width="260" height="300" fill="#bcd6e6" stroke="#fff" stroke-width="14"/><path d="M600 230v300M470 380h260" stroke="#fff" stroke-width="10"/>`;
const hole =
  `<rect width="1200" height="900" fill="#5d5142"/>` +
  board(-20, 200, 1240, 420, LVL) +
  `<circle cx="620" cy="520" r="34" fill="#241c13"/>` +
  tape(300, 640, 640);

export const scenes = {
  'wall before': wallBefore,
  attic,
  'core hole': coreHole,
  panel,
  shoring,
  'shoring without braces': shoringUnbraced,
  'stamp 1.9E, 11 7/8': stamp('LVL 1.9E', '1 3/4 x 11 7/8'),
  'stamp 1.9E, 9 1/4': stamp('LVL 1.9E', '1 3/4 x 9 1/4'),
  'stamp DF-L': stamp('DF-L No.2', 'S-DRY'),
  pads,
  beam,
  hangers,
  'ply nails': plyNails,
  boxes,
  finished,
  hole,
} as const;

export type Scene = keyof typeof scenes;
