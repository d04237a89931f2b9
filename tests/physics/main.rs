//! Physics of kin-core held against closed forms, published values, independent reference cases and laws.

mod reference;
