// @ts-check
// Light or dark before the first paint: the reader's switch goes before the device's own wish.
// A classic script on purpose: a module would come too late and the page would flash.
(() => {
  const key = "clothwright-theme";
  const names = { "": "auto", light: "light", dark: "dark" };
  /** @returns {"" | "light" | "dark"} */
  const kept = () => {
    try {
      const found = localStorage.getItem(key);
      return found === "light" || found === "dark" ? found : "";
    } catch {
      return "";
    }
  };
  /** @param {"" | "light" | "dark"} theme */
  const show = (theme) => {
    if (theme) document.documentElement.dataset.theme = theme;
    else delete document.documentElement.dataset.theme;
    const name = document.querySelector("[data-theme-name]");
    if (name) name.textContent = names[theme];
  };
  show(kept());
  document.addEventListener("DOMContentLoaded", () => {
    let theme = kept();
    show(theme);
    document.querySelector("[data-theme-switch]")?.addEventListener("click", () => {
      theme = theme === "" ? "light" : theme === "light" ? "dark" : "";
      try {
        if (theme) localStorage.setItem(key, theme);
        else localStorage.removeItem(key);
      } catch {
        // a browser that keeps nothing still shows what was pressed
      }
      show(theme);
    });
  });
})();
