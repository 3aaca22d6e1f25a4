import type * as api from "../net/api";

/** A spread of a format at true proportion: trim, bleed, safe margin, and the frame its margins leave. */
export function FormatSketch({ format }: { format: api.Format }) {
  const { trim: { width: w, height: h }, bleed, safe, margins: m, swallow } = format;
  const words = `Two pages, each ${Math.round(w * 10) / 10} by ${Math.round(h * 10) / 10} millimetres`;
  return (
    <svg class="format-sketch" viewBox={`${-bleed - 1} ${-bleed - 1} ${2 * (w + bleed) + 2} ${h + 2 * bleed + 2}`} role="img" aria-label={words}>
      <rect class="paper" width={2 * w} height={h} />
      {[0, 1].map((right) => (
        <g key={right} transform={`translate(${right * w} 0)`}>
          <rect class="frame" x={right ? m.inner : m.outer} y={m.top} width={Math.max(0, w - m.inner - m.outer)} height={Math.max(0, h - m.top - m.bottom)} />
          {swallow > 0 && <rect class="hidden" x={right ? 0 : w - swallow} width={swallow} height={h} />}
          <rect class="line safe" x={safe} y={safe} width={Math.max(0, w - 2 * safe)} height={Math.max(0, h - 2 * safe)} />
          <rect class="line trim" width={w} height={h} />
        </g>
      ))}
      <rect class="line bleed" x={-bleed} y={-bleed} width={2 * (w + bleed)} height={h + 2 * bleed} />
    </svg>
  );
}
