// Prints 216 sRGB colours with their Lab (D65) as culori has them.
// See README.md beside this file.
import { converter } from "culori";

const lab = converter("lab65");
console.log("r,g,b,L,A,B");
for (const r of [0, 51, 102, 153, 204, 255])
  for (const g of [0, 40, 101, 155, 210, 255])
    for (const b of [0, 33, 99, 160, 220, 255]) {
      const c = lab({ mode: "rgb", r: r / 255, g: g / 255, b: b / 255 });
      console.log([r, g, b, c.l.toFixed(4), c.a.toFixed(4), c.b.toFixed(4)].join(","));
    }
