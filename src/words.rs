//! Enums whose variants stand for words.

/// An enum whose variants are named once, each with its words: one for each
/// method that stands at the end, one of which may be what is displayed. `ALL`
/// has the variants in this order.
macro_rules! words {
    (
        $(#[$about:meta])*
        $vis:vis enum $name:ident {
            $($(#[$meta:meta])* $variant:ident = $($word:literal)/+,)+
        }

        $($(#[$doc:meta])* fn $method:ident;)+
        $(impl Display = $shown:ident;)?
    ) => {
        $(#[$about])*
        $vis enum $name { $($(#[$meta])* $variant),+ }

        impl $name {
            /// All, in the order of the definition.
            $vis const ALL: [Self; [$(Self::$variant),+].len()] = [$(Self::$variant),+];

            words!(@methods $vis [$($(#[$doc])* $method;)+] $($variant [$($word),+])+);
        }

        $(impl std::fmt::Display for $name {
            fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
                f.pad(self.$shown())
            }
        })?
    };
    (@methods $vis:vis [] $($variant:ident [])+) => {};
    (
        @methods $vis:vis
        [$(#[$doc:meta])* $method:ident; $($rest:tt)*]
        $($variant:ident [$word:literal $(, $more:literal)*])+
    ) => {
        $(#[$doc])*
        $vis const fn $method(self) -> &'static str {
            match self { $(Self::$variant => $word),+ }
        }

        words!(@methods $vis [$($rest)*] $($variant [$($more),*])+);
    };
}
