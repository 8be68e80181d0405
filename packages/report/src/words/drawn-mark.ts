/** Stands in the metadata of pictures and clips that could pass for footage, so that no one measures them as if they were. */
export const drawnMark = "drawn by frontpace";
