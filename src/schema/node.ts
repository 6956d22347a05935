import type { Extent } from '../quantity/extent.js';

/** The part of JSON Schema that the documents use, plus `quantity`, which names what a text must measure. */
export interface SchemaNode {
  readonly $ref?: string;
  readonly title?: string;
  readonly description?: string;
  readonly type?: string | readonly string[];
  readonly const?: string;
  readonly enum?: readonly string[];
  readonly properties?: Readonly<Record<string, SchemaNode>>;
  readonly required?: readonly string[];
  readonly items?: SchemaNode;
  readonly additionalProperties?: SchemaNode | boolean;
  readonly propertyNames?: { readonly pattern: string };
  readonly quantity?: string;
  /** Of a quantity: it may be below zero. */
  readonly signed?: boolean;
  /** Of a quantity: what it may be where it stands. */
  readonly extent?: Extent;
  readonly tsType?: string;
  readonly pattern?: string;
  readonly examples?: readonly unknown[];
  readonly minimum?: number;
  readonly maximum?: number;
  readonly minLength?: number;
  readonly maxLength?: number;
  readonly minItems?: number;
  readonly maxItems?: number;
  readonly minProperties?: number;
  readonly maxProperties?: number;
  readonly uniqueItems?: boolean;
}
