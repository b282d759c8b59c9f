// Light or dark: as the student says, or as the phone does, also while the phone changes its mind.

const NIGHT = "(prefers-color-scheme: dark)";
const GROUNDS = Object.freeze({ light: "#FBF8F1", dark: "#17181C" });

/**
 * Keeps the page in its theme.
 *
 * @param {() => "phone" | "light" | "dark"} wanted
 * @returns {() => void} call it when what is wanted has changed
 */
export function keepTheme(wanted) {
  const night = matchMedia(NIGHT);
  const apply = () => {
    const theme = wanted() === "phone" ? (night.matches ? "dark" : "light") : wanted();
    document.documentElement.dataset.theme = theme;
    for (const meta of document.querySelectorAll('meta[name="theme-color"]')) meta.content = GROUNDS[theme];
  };
  night.addEventListener("change", apply);
  apply();
  return apply;
}
