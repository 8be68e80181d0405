export { toJSONSchema } from "zod";
