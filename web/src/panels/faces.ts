import { useEffect } from "preact/hooks";

const faces = 4; // that are printed with; a test of the program holds it to them
let known = 0;

/** Words of the class printed-words stand in the typeface they are printed in: the first face that has a character gives it, and one is fetched once something is written in it. */
export function usePrintedFaces(): void {
  useEffect(() => {
    for (; known < faces; known++) document.fonts.add(new FontFace(`Printed ${known + 1}`, `url(/fonts/${known + 1}.ttf)`));
  }, []);
}
