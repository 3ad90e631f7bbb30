// A person sees a row before tapping it, and the app takes no tap on one that has just moved there.

/** How long a row is looked at before it is tapped, ms: a little longer than the app asks for. */
export const LOOK_MS = 600;

/** Runs in the page: waits until the row that an element is in has been in its place for so long. */
export async function inPlace(element, ms) {
  const row = element.closest("[data-guarded]");
  const where = () => {
    const { x, y } = row.getBoundingClientRect();
    return `${Math.round(x)} ${Math.round(y)}`;
  };
  if (!row) return;
  let [last, since] = [where(), performance.now()];
  while (row.isConnected && performance.now() - since < ms) {
    await new Promise((done) => setTimeout(done, 20));
    if (where() !== last) [last, since] = [where(), performance.now()];
  }
}
