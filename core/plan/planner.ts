/**
 * From a scan and a commission to every answer, by stages. Written to be called again and again by the window: each stage
 * is worked out anew only when something that it depends on has changed.
 */
export type {};
