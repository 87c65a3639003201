//! Finds the jig by what it says of itself on USB.

use std::path::Path;

use runproof_protocol::usb;
use serialport::{SerialPortInfo, SerialPortType};

use super::JigError;

/// Where Linux lists its ports; serialport panics where it is missing.
const LINUX_PORTS: &str = "/sys/class/tty";

/// The path of the one jig that is attached.
pub(crate) fn the_attached_jig() -> Result<String, JigError> {
    if cfg!(target_os = "linux") && !Path::new(LINUX_PORTS).is_dir() {
        return Err(JigError::PortsUnknown { reason: format!("there is no {LINUX_PORTS}") });
    }
    match serialport::available_ports() {
        Ok(ports) => chosen(&ports),
        Err(error) => Err(JigError::PortsUnknown { reason: error.to_string() }),
    }
}

/// The one jig among these ports.
fn chosen(ports: &[SerialPortInfo]) -> Result<String, JigError> {
    let mut paths: Vec<_> =
        ports.iter().filter(|port| is_jig(port)).map(|port| port.port_name.clone()).collect();
    paths.sort();
    match <[String; 1]>::try_from(paths) {
        Ok([path]) => Ok(path),
        Err(paths) if paths.is_empty() => Err(JigError::NoneAttached),
        Err(paths) => Err(JigError::SeveralAttached { paths }),
    }
}

/// macOS lists each port twice; opening this form of it waits for a carrier.
const WAITS_FOR_CARRIER: &str = "/dev/tty.";

fn is_jig(port: &SerialPortInfo) -> bool {
    if port.port_name.starts_with(WAITS_FOR_CARRIER) {
        return false;
    }
    match &port.port_type {
        SerialPortType::UsbPort(port) => {
            (port.vid, port.pid) == (usb::VENDOR, usb::PRODUCT)
                && port.product.as_deref() == Some(usb::PRODUCT_NAME)
        }
        SerialPortType::PciPort | SerialPortType::BluetoothPort | SerialPortType::Unknown => false,
    }
}

#[cfg(test)]
mod tests {
    use serialport::UsbPortInfo;

    use super::*;

    fn port(path: &str, port_type: SerialPortType) -> SerialPortInfo {
        SerialPortInfo { port_name: path.into(), port_type }
    }

    fn on_usb(path: &str, vid: u16, pid: u16, product: Option<&str>) -> SerialPortInfo {
        let product = product.map(str::to_owned);
        let info = UsbPortInfo { vid, pid, serial_number: None, manufacturer: None, product };
        port(path, SerialPortType::UsbPort(info))
    }

    fn jig(path: &str) -> SerialPortInfo {
        on_usb(path, usb::VENDOR, usb::PRODUCT, Some(usb::PRODUCT_NAME))
    }

    fn others() -> Vec<SerialPortInfo> {
        vec![
            port("/dev/ttyS0", SerialPortType::PciPort),
            port("/dev/ttyS1", SerialPortType::Unknown),
            port("/dev/rfcomm0", SerialPortType::BluetoothPort),
            on_usb("/dev/ttyACM0", usb::VENDOR, usb::PRODUCT, Some("a weather station")),
            on_usb("/dev/ttyACM1", usb::VENDOR, usb::PRODUCT, None),
            on_usb("/dev/ttyUSB0", usb::VENDOR, 2, Some(usb::PRODUCT_NAME)),
            jig("/dev/tty.usbmodem7"),
            on_usb("/dev/ttyUSB1", 1, usb::PRODUCT, Some(usb::PRODUCT_NAME)),
        ]
    }

    #[test]
    fn the_only_jig_is_taken_whatever_else_is_attached() {
        let mut ports = others();
        ports.insert(3, jig("/dev/ttyACM7"));
        assert_eq!(chosen(&ports).ok().as_deref(), Some("/dev/ttyACM7"));
    }

    #[test]
    fn nothing_else_is_taken_for_a_jig() {
        assert!(matches!(chosen(&others()), Err(JigError::NoneAttached)));
        assert!(matches!(chosen(&[]), Err(JigError::NoneAttached)));
    }

    #[test]
    fn of_several_jigs_none_is_taken() {
        let ports = [jig("/dev/ttyACM2"), others().remove(0), jig("/dev/ttyACM1")];
        let Err(error) = chosen(&ports) else { panic!("one was taken") };
        assert!(error.to_string().contains("/dev/ttyACM1, /dev/ttyACM2"), "{error}");
        assert!(error.next_step().contains("--port /dev/ttyACM1"), "{}", error.next_step());
    }
}
