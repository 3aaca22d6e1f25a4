// How far a clock is off, and how long a gap may be: as a person types it, as
// the program takes it (Go's durations), and in words.

/** Seconds in what was typed: "-2:00:07", "+1 h 7 min", "90 s", "2h"; undefined when it is no length of time. */
export function readLength(typed: string): number | undefined {
  const text = typed.trim().toLowerCase().replace(/[−–]/g, "-");
  const clock = /^([+-]?)(\d{1,3}):(\d{2})(?::(\d{2}))?$/.exec(text);
  if (clock) {
    const seconds = Number(clock[2]) * 3600 + Number(clock[3]) * 60 + Number(clock[4] ?? 0);
    return Number(clock[3]) > 59 || Number(clock[4] ?? 0) > 59 ? undefined : signed(clock[1]!, seconds);
  }
  const words = /^([+-]?)\s*(?:(\d+)\s*d(?:ays?)?)?[\s,]*(?:(\d+)\s*h(?:ours?)?)?[\s,]*(?:(\d+)\s*m(?:in(?:utes?)?)?)?[\s,]*(?:(\d+)\s*s(?:ec(?:onds?)?)?)?$/.exec(text);
  if (!words || words.slice(2).every((part) => part === undefined)) return undefined;
  const [d, h, m, s] = words.slice(2).map((part) => Number(part ?? 0));
  return signed(words[1]!, ((d! * 24 + h!) * 60 + m!) * 60 + s!);
}

function signed(sign: string, seconds: number): number {
  return sign === "-" && seconds !== 0 ? -seconds : seconds;
}

/** Seconds as the program reads them: "-2h0m7s". */
export function asDuration(seconds: number): string {
  const all = Math.abs(seconds);
  return `${seconds < 0 ? "-" : ""}${Math.floor(all / 3600)}h${Math.floor(all / 60) % 60}m${all % 60}s`;
}

/** Seconds as one says them: "2 h 7 s", "30 min", "none". */
export function lengthOfTime(seconds: number): string {
  const all = Math.abs(Math.round(seconds));
  const parts = [[Math.floor(all / 3600), "h"], [Math.floor(all / 60) % 60, "min"], [all % 60, "s"]] as const;
  return parts.filter(([n]) => n > 0).map(([n, unit]) => `${n} ${unit}`).join(" ") || "none";
}

/** Seconds as they can be typed again, with their sign: "−2:00:07". */
export function typedLength(seconds: number): string {
  const all = Math.abs(Math.round(seconds));
  const two = (n: number) => String(n).padStart(2, "0");
  return `${seconds < 0 ? "−" : "+"}${Math.floor(all / 3600)}:${two(Math.floor(all / 60) % 60)}:${two(all % 60)}`;
}
