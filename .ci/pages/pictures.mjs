// Whether the pictures of pages in the guide are those that the program makes today.

import { readFileSync } from "node:fs";
import { inflateSync } from "node:zlib";

import { output } from "./run.mjs";
import { check } from "./tally.mjs";

/** How coarse the pictures are, in dots per inch. */
const DPI = "70";
/** What another release of the program that renders may change: a mean over all dots, 0 to 255. */
const MOST = 1.5;

/** Bytes a dot by PNG's type of colour. */
const CHANNELS = { 0: 1, 2: 3, 4: 2, 6: 4 };

/** A PNG of eight bits a channel and without interlacing: `{ width, height, dots }`. */
function decode(bytes) {
  const data = [];
  let head;
  for (let at = 8; at < bytes.length; ) {
    const length = bytes.readUInt32BE(at);
    const kind = bytes.toString("latin1", at + 4, at + 8);
    const body = bytes.subarray(at + 8, at + 8 + length);
    if (kind === "IHDR") head = { width: body.readUInt32BE(0), height: body.readUInt32BE(4), depth: body[8], colour: body[9] };
    if (kind === "IDAT") data.push(body);
    at += length + 12;
  }
  const size = CHANNELS[head.colour];
  if (head.depth !== 8 || !size) throw new Error("a PNG of another kind");
  const raw = inflateSync(Buffer.concat(data));
  const stride = head.width * size;
  const dots = Buffer.alloc(stride * head.height);
  for (let y = 0; y < head.height; y += 1) {
    const filter = raw[y * (stride + 1)];
    for (let x = 0; x < stride; x += 1) {
      const left = x >= size ? dots[y * stride + x - size] : 0;
      const up = y > 0 ? dots[(y - 1) * stride + x] : 0;
      const corner = x >= size && y > 0 ? dots[(y - 1) * stride + x - size] : 0;
      const [a, b, c] = [left, up, corner].map((one) => Math.abs(left + up - corner - one));
      const paeth = a <= b && a <= c ? left : b <= c ? up : corner;
      const guess = [0, left, up, (left + up) >> 1, paeth][filter];
      dots[y * stride + x] = raw[y * (stride + 1) + 1 + x] + guess;
    }
  }
  return { ...head, dots };
}

/** Each picture, with the PDF and the page that it shows. */
export async function pictures(folder) {
  for (const [picture, pdf, page] of [
    ["specs/pictures/report-page.png", "boards.pdf", "1"],
    ["specs/pictures/board-page.png", "boards.pdf", "5"],
  ]) {
    await check(`${picture}: is what the program makes today`, async ({ equal, holds }) => {
      const now = `${folder}/now`;
      await output("pdftoppm", "-r", DPI, "-f", page, "-l", page, "-png", "-singlefile", `${folder}/${pdf}`, now);
      const [shown, made] = [picture, `${now}.png`].map((file) => decode(readFileSync(file)));
      equal("size", [shown.width, shown.height, shown.colour], [made.width, made.height, made.colour]);
      const sum = shown.dots.reduce((sum, dot, i) => sum + Math.abs(dot - made.dots[i]), 0);
      holds("mean difference", sum / shown.dots.length < MOST, `under ${MOST}`, sum / shown.dots.length);
    });
  }
}
