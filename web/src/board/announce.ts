const settle = 140; // ms: what is said faster than this is said once, at the end

/**
 * The one status line for those who listen. It speaks politely, after things
 * have settled; of a quick walk it says only where it ended.
 */
export function speaker(line: HTMLElement): (words: string) => void {
  let timer = 0;
  let waiting = "";
  return (words) => {
    const lasting = /^(Done|Undone|Done again|The wall changed)/.test(waiting);
    waiting = lasting && !/^(Done|Undone)/.test(words) ? `${waiting} ${words}` : words;
    clearTimeout(timer);
    timer = window.setTimeout(() => {
      line.textContent = line.textContent === waiting ? waiting + "\u00a0" : waiting; // the same words twice are news, too
      waiting = "";
    }, settle);
  };
}
