// How two answers differ: anything but numbers must be equal, numbers within a relative difference.

/** What is smaller is what is left of amounts that cancel: its digits are those of the rounding. */
const ZERO = 1e-11;

/** Differences of two values; `seen` gets what differs, and `numbers` how many numbers were not the same bits. */
export function differ(a, b, within, seen, at = "") {
  if (typeof a === "number" && typeof b === "number") {
    if (a === b || Math.max(Math.abs(a), Math.abs(b)) < ZERO) return;
    const relative = Math.abs(a - b) / Math.max(Math.abs(a), Math.abs(b));
    seen.numbers += 1;
    if (relative > seen.worst) Object.assign(seen, { worst: relative, worstAt: `${at}: ${a}, ${b}` });
    if (relative > within) seen.wrong.push(`${at}: ${a}, not ${b}`);
  } else if (a && b && typeof a === "object" && typeof b === "object") {
    const [left, right] = [Object.keys(a), Object.keys(b)];
    if (left.join() !== right.join()) seen.wrong.push(`${at}: fields ${left.slice(0, 40)}, not ${right.slice(0, 40)}`);
    else for (const key of left) differ(a[key], b[key], within, seen, `${at}/${key}`);
  } else if (a !== b) seen.wrong.push(`${at}: ${JSON.stringify(a)?.slice(0, 200)}, not ${JSON.stringify(b)?.slice(0, 200)}`);
}

export const nothing = () => ({ numbers: 0, worst: 0, worstAt: "", wrong: [] });

/** The fields of an error that every face carries. */
export const faultOf = ({ code, pointer, detail, hint, place }) => ({ code, pointer, detail, hint, place });

/** The middle of some times, and the shortest. */
export function times(list) {
  const sorted = [...list].sort((a, b) => a - b);
  return `median ${sorted[sorted.length >> 1].toFixed(1)} ms, shortest ${sorted[0].toFixed(1)}`;
}
