// Moves a picture through the positions it was sent, with controls that work by mouse and by keyboard.
// The same code runs in a page without a kernel and inside a notebook's panel. Nothing moves until it is asked to.

function linkkitPlayer(root, spec, told) {
  const find = (part) => root.querySelector(`[data-part="${part}"]`);
  const [range, box, play, back, on, speed] = ["range", "box", "play", "back", "on", "speed"].map(find);
  const calm = window.matchMedia("(prefers-reduced-motion: reduce)");
  const outputs = [...root.querySelectorAll("[data-readout]")];
  let { poses, n, values, closed } = spec;
  let bodies = [], at = spec.start, turn = null, way = 1, clock = 0, due = 0;

  const reading = (v) => (v === null || Number.isNaN(v) ? "–" : String(Math.round(10 * v) / 10));

  function gather() {
    const row = new Map(spec.links.map((link, k) => [link, 4 * k]));
    bodies = [...root.querySelectorAll("[data-link]")].map((node) => {
      const [p, q] = node.dataset.spot.split(" ").map(Number);
      return { node, p, q, row: row.get(node.dataset.link), upright: node.dataset.upright === "1" };
    }).filter((body) => body.row !== undefined);
  }

  function draw() {
    const base = 4 * spec.links.length * at;
    for (const { node, p, q, row, upright } of bodies) {
      const x = poses[base + row], y = poses[base + row + 1], c = poses[base + row + 2], s = poses[base + row + 3];
      const places = `${(x + c * p + s * q).toFixed(2)} ${(y - s * p + c * q).toFixed(2)}`;
      node.setAttribute("transform", upright ? `matrix(1 0 0 1 ${places})` : `matrix(${c} ${-s} ${s} ${c} ${places})`);
    }
    const text = reading(values[at]);
    range.value = at;
    range.setAttribute("aria-valuetext", `${text} ${spec.unit}`);
    if (document.activeElement !== box) box.value = text;
    outputs.forEach((node, k) => { node.textContent = reading(spec.readouts[k].values[at]); });
  }

  function show(k, stop) {
    if (stop) pause();
    at = closed ? ((k % n) + n) % n : Math.min(Math.max(k, 0), n - 1);
    draw();
    if (told) told(at);
  }

  function pause() {
    if (turn !== null) cancelAnimationFrame(turn);
    turn = null;
    play.textContent = "Play";
  }

  function start() {
    clock = performance.now();
    due = 0;
    play.textContent = "Pause";
    turn = requestAnimationFrame(tick);
  }

  // One cycle of the input lasts a minute divided by the speed; who asked for less motion gets some 24 separate positions.
  function tick(now) {
    const cycle = closed ? n : 2 * (n - 1);
    const least = calm.matches ? Math.max(1, Math.round(cycle / 24)) : 1;
    due += ((now - clock) / 60000) * Number(speed.value) * cycle;
    clock = now;
    if (due >= least) {
      const step = Math.floor(due / least) * least;
      due -= step;
      go(step);
    }
    turn = requestAnimationFrame(tick);
  }

  function go(step) {
    let next = at + way * step;
    if (!closed) {
      if (next > n - 1) { next = 2 * (n - 1) - next; way = -1; }
      if (next < 0) { next = -next; way = 1; }
    }
    show(next, false);
  }

  function nearest(value) {
    let best = 0, least = Infinity;
    values.forEach((v, k) => {
      let gap = Math.abs(v - value);
      if (spec.turn) gap = Math.abs(((gap + spec.turn / 2) % spec.turn) - spec.turn / 2);
      if (gap < least) { least = gap; best = k; }
    });
    return best;
  }

  // The page round the picture must not take plain keys for itself (a notebook's own shortcuts would); Shift+Enter is its own.
  const ours = (e) => { if (!(e.shiftKey || e.ctrlKey || e.metaKey || e.altKey)) e.stopPropagation(); };
  [range, box, play, back, on, speed].forEach((node) => node.addEventListener("keydown", ours));
  range.addEventListener("input", () => show(Number(range.value), true));
  box.addEventListener("change", () => { if (box.value !== "") show(nearest(Number(box.value)), true); });
  back.addEventListener("click", () => show(at - spec.stride, true));
  on.addEventListener("click", () => show(at + spec.stride, true));
  play.addEventListener("click", () => (turn === null ? start() : pause()));

  function load(next) {
    const keep = next.start === undefined ? nearestIn(next) : next.start;
    spec = next;
    ({ poses, n, values, closed } = spec);
    range.max = n - 1;
    gather();
    show(keep, false);
  }

  function nearestIn(next) {
    const value = values[at];
    ({ values } = next);
    return nearest(value);
  }

  gather();
  draw();
  return { load, show, pause, at: () => at };
}
