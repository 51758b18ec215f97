//! `#[derive(Described)]`: what a table or a word of the manifest is, said by the type that serde reads it into.
//!
//! The doc comments of fields and variants become texts at run time, under the names that serde gives them. So a key has one
//! source: the line of Rust that reads it, with the comment above it.
//!
//! - `#[keys(of = "ruling")]` on a field says that its text is a name out of a table that only the program knows.
//! - `#[keys(here)]` on a type is for the crate `base` itself, which cannot call itself by its name.

use proc_macro2::{Span, TokenStream};
use quote::quote;
use syn::{Attribute, Data, DeriveInput, Error, Expr, ExprLit, Fields, Lit, LitStr, Meta};

/// Derives `base::keys::Described` for a struct with named fields, or an enum of plain words.
#[proc_macro_derive(Described, attributes(keys))]
pub fn described(input: proc_macro::TokenStream) -> proc_macro::TokenStream {
    let input = syn::parse_macro_input!(input as DeriveInput);
    implement(&input).unwrap_or_else(Error::into_compile_error).into()
}

fn implement(input: &DeriveInput) -> Result<TokenStream, Error> {
    let own = Marks::of(&input.attrs)?;
    // A text: these crates are named by what is derived, not by this one.
    let home: syn::Path = syn::parse_str(if own.here { "crate::keys" } else { "::base::keys" })?;
    let (ident, doc) = (&input.ident, doc(&input.attrs));
    let name = ident.to_string();
    let shape = match &input.data {
        Data::Struct(data) => {
            let keys = match &data.fields {
                Fields::Named(fields) => {
                    let read = fields.named.iter().map(|f| key(f, &own, &home)).collect::<Result<Vec<_>, _>>()?;
                    read.into_iter().flatten().collect::<Vec<_>>()
                }
                Fields::Unnamed(_) | Fields::Unit => return Err(refused("a table has named fields")),
            };
            quote! { #home::Shape::Table(#home::Table { name: #name, doc: #doc, keys: ::std::vec![#(#keys),*] }) }
        }
        Data::Enum(data) => {
            let mut words = Vec::new();
            for variant in &data.variants {
                if !matches!(variant.fields, Fields::Unit) {
                    return Err(refused("a word has no fields: say by hand what the type takes"));
                }
                let marks = Marks::of(&variant.attrs)?;
                let word = marks.rename.unwrap_or_else(|| own.case(&variant.ident.to_string()));
                let doc = self::doc(&variant.attrs);
                words.push(quote! { #home::Word { word: #word, doc: #doc } });
            }
            quote! { #home::Shape::Words(::std::vec![#(#words),*]) }
        }
        Data::Union(_) => return Err(refused("a union is no table")),
    };
    let (with, of, given) = input.generics.split_for_impl();
    Ok(quote! {
        impl #with #home::Described for #ident #of #given {
            fn shape() -> #home::Shape { #shape }
        }
    })
}

fn key(field: &syn::Field, own: &Marks, home: &syn::Path) -> Result<Option<TokenStream>, Error> {
    let marks = Marks::of(&field.attrs)?;
    if marks.skip {
        return Ok(None);
    }
    let ident = field.ident.as_ref().map(ToString::to_string).unwrap_or_default();
    let name = marks.rename.clone().unwrap_or_else(|| own.case(&ident));
    let (doc, kind) = (doc(&field.attrs), &field.ty);
    let needed = !own.default && !marks.default && !optional(kind);
    let of = match &marks.of {
        Some(of) => quote!(::std::option::Option::Some(#of)),
        None => quote!(::std::option::Option::None),
    };
    Ok(Some(quote! {
        #home::Key { name: #name, doc: #doc, of: #of, needed: #needed, shape: <#kind as #home::Described>::shape }
    }))
}

/// Whether a field is an option, which may be left out.
fn optional(kind: &syn::Type) -> bool {
    match kind {
        syn::Type::Path(path) => path.path.segments.last().is_some_and(|s| s.ident == "Option" || s.ident == "Word"),
        _ => false,
    }
}

fn refused(why: &str) -> Error {
    Error::new(Span::call_site(), why)
}

/// The doc comment, its lines joined.
fn doc(attributes: &[Attribute]) -> String {
    let lines = attributes.iter().filter(|a| a.path().is_ident("doc")).filter_map(|a| match &a.meta {
        Meta::NameValue(pair) => match &pair.value {
            Expr::Lit(ExprLit { lit: Lit::Str(text), .. }) => Some(text.value().trim().to_owned()),
            _ => None,
        },
        _ => None,
    });
    lines.collect::<Vec<_>>().join("\n").trim().to_owned()
}

/// What attributes of serde and of this derive say.
#[derive(Default)]
struct Marks {
    kebab: bool,
    default: bool,
    here: bool,
    skip: bool,
    rename: Option<String>,
    of: Option<String>,
}

impl Marks {
    fn of(attributes: &[Attribute]) -> Result<Marks, Error> {
        let mut out = Marks::default();
        for attribute in attributes.iter().filter(|a| a.path().is_ident("serde") || a.path().is_ident("keys")) {
            attribute.parse_nested_meta(|meta| {
                let said = |meta: &syn::meta::ParseNestedMeta| meta.value()?.parse::<LitStr>().map(|text| text.value());
                if meta.path.is_ident("rename_all") {
                    match said(&meta)?.as_str() {
                        "kebab-case" => out.kebab = true,
                        other => return Err(meta.error(format!("`{other}` is not how keys are written here"))),
                    }
                } else if meta.path.is_ident("rename") {
                    out.rename = Some(said(&meta)?);
                } else if meta.path.is_ident("default") {
                    out.default = true;
                } else if meta.path.is_ident("skip") {
                    out.skip = true;
                } else if meta.path.is_ident("here") {
                    out.here = true;
                } else if meta.path.is_ident("of") {
                    out.of = Some(said(&meta)?);
                } else if meta.input.peek(syn::Token![=]) {
                    said(&meta)?;
                }
                Ok(())
            })?;
        }
        Ok(out)
    }

    /// A name as serde writes it: words of a field are parted by `_`, those of a variant by capitals.
    fn case(&self, ident: &str) -> String {
        if !self.kebab {
            return ident.to_owned();
        }
        let mut out = String::new();
        for c in ident.chars() {
            if c.is_uppercase() && !out.is_empty() {
                out.push('-');
            }
            out.extend(if c == '_' { '-' } else { c.to_ascii_lowercase() }.to_lowercase());
        }
        out
    }
}
