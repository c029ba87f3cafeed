// The panel's picture in the page: it draws by itself from the table it was sent; the kernel is only told the position.

function render({ model, el }) {
  const holder = document.createElement("div");
  holder.innerHTML = model.get("markup");
  el.appendChild(holder);

  const spec = () => {
    const bytes = model.get("poses");
    return { ...model.get("spec"), poses: new Float32Array(bytes.buffer, bytes.byteOffset, bytes.byteLength / 4) };
  };

  let later = null;
  const told = (at) => {
    clearTimeout(later);
    later = setTimeout(() => { model.set("index", at); model.save_changes(); }, 150);
  };

  const player = linkkitPlayer(holder, spec(), told);
  model.on("change:version", () => {
    holder.querySelector('[data-part="picture"]').innerHTML = model.get("picture");
    player.load(spec());
  });
  return () => { clearTimeout(later); player.pause(); };
}

export default { render };
