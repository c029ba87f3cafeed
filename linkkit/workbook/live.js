// The panel's picture in the page: it draws by itself from the table it was sent; the kernel is only told the position.

// ipywidgets draws a slider's handle and a number box without a name that a screen reader could say: they are given
// that of their label. The controls of a panel may be drawn after its picture.
function nameControls(holder) {
  const named = (node, text) => { if (node && text) node.setAttribute("aria-label", text); return Boolean(node); };
  const all = () => {
    const panel = holder.closest(".widget-vbox:not(.widget-vbox *)") || holder;
    return [...panel.querySelectorAll(".widget-slider, .widget-text")].map((control) => {
      const label = control.querySelector(".widget-label");
      const text = label ? label.textContent.trim() || label.title : "";
      return named(control.querySelector(".noUi-handle, input"), text);
    }).every(Boolean) && panel !== holder;
  };
  let tries = 0;
  const again = () => { if (!all() && ++tries < 20) setTimeout(again, 150); };
  again();
}

function render({ model, el }) {
  const holder = document.createElement("div");
  holder.innerHTML = model.get("markup");
  el.appendChild(holder);
  nameControls(holder);
  const picture = holder.querySelector('[data-part="picture"]');
  if (model.get("picture")) picture.innerHTML = model.get("picture");  // it was redrawn before this view was opened

  // All numbers come in one block: the poses, then the input's values, then each readout's.
  const spec = () => {
    const sent = model.get("spec"), bytes = model.get("numbers");
    const all = new Float32Array(bytes.buffer, bytes.byteOffset, bytes.byteLength / 4);
    const size = 4 * sent.links.length * sent.n, from = (k) => all.subarray(size + k * sent.n, size + (k + 1) * sent.n);
    const readouts = sent.readouts.map((readout, k) => ({ ...readout, values: from(k + 1) }));
    return { ...sent, poses: all.subarray(0, size), values: from(0), readouts };
  };

  let later = null;
  const told = (at) => {
    clearTimeout(later);
    later = setTimeout(() => { model.set("index", at); model.save_changes(); }, 150);
  };

  const player = linkkitPlayer(holder, { ...spec(), start: model.get("index") }, told);
  model.on("change:version", () => {
    picture.innerHTML = model.get("picture");
    player.load({ ...spec(), start: undefined });
  });
  return () => { clearTimeout(later); player.pause(); };
}

export default { render };
