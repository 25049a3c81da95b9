// @ts-check
import { followEdits } from "./edit.js";
import { followLengths } from "./lengths.js";
import { followLetters } from "./letters.js";
import { connect } from "./live.js";
import { followSwaps } from "./morph.js";
import { followNotices } from "./notices.js";

followSwaps();
followEdits();
followLengths();
followLetters();
connect();
followNotices();
document.querySelector(".tape [aria-current]")?.scrollIntoView({ block: "nearest", inline: "center" });
// Modules run before this event: from here on everything answers. bench/page.py reads the mark.
document.addEventListener("DOMContentLoaded", () => performance.mark("ready"));
